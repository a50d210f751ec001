import { faultText, fine, type Outcome, wrong } from '../../core/problem.ts'
import type { PortInfo } from '../sources/portTypes.ts'

/**
 * Serial ports of this computer. A problem where the system cannot list them; a port can then still be named.
 */
export async function listPorts(): Promise<Outcome<readonly PortInfo[]>> {
  try {
    const { SerialPort } = await import('serialport')
    const ports = await SerialPort.list()
    return fine(
      ports.map(port => ({
        path: port.path,
        manufacturer: port.manufacturer ?? null,
        serialNumber: port.serialNumber ?? null,
        vendorId: port.vendorId ?? null,
        productId: port.productId ?? null,
      })),
    )
  } catch (error) {
    const text = faultText(error)
    const noTool = /udevadm/.test(text)
    return wrong({
      where: 'serial ports',
      what: noTool
        ? 'they cannot be listed: the system’s udevadm is missing.'
        : `they cannot be listed (${text}).`,
      cure: noTool
        ? 'Install the package udev, or name the port yourself: it is a file such as /dev/ttyUSB0 or /dev/ttyACM0.'
        : 'Name the port yourself.',
    })
  }
}
