import { Command } from 'commander'
import { listPorts, type PortInfo } from '../../capture/index.ts'
import { printable } from '../../core/printable.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { tell } from '../tell.ts'

const EXAMPLES = `
Exit codes: 0 listed; 3 this computer cannot list its ports (one may still be named with record --port).`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Lists the serial ports of this computer.')
    .option('--json', 'one JSON object: { "ports": [{ "path", "manufacturer", … }] }')
    .addHelpText('after', EXAMPLES)
    .action(async ({ json }: { json?: true }) => done(await ports(json === true, io)))
}

async function ports(json: boolean, io: Io): Promise<ExitCode> {
  const listed = await listPorts()
  if (!listed.ok) {
    return tell(io, listed.problems, EXIT.input)
  }
  if (json) io.out(`${JSON.stringify({ ports: listed.value })}\n`)
  else if (listed.value.length === 0) {
    io.out('No serial port is there. Plug the device in; some need a driver before they show.\n')
  } else for (const port of listed.value) io.out(`${portLine(port)}\n`)
  return EXIT.ok
}

function portLine({ path, manufacturer, serialNumber, vendorId, productId }: PortInfo): string {
  const usb = vendorId !== null && productId !== null ? `USB ${vendorId}:${productId}` : null
  const about = [manufacturer, usb, serialNumber && `serial ${serialNumber}`].filter(part => part !== null)
  return `${printable(path, 200)}${about.length > 0 ? `  ${about.map(part => printable(part)).join(', ')}` : ''}`
}
