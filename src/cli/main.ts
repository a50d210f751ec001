import { fileProblem } from '../core/fileProblem.ts'
import { EXIT, processIo } from './io.ts'
import { run } from './run.ts'
import { tell } from './tell.ts'

const io = processIo()

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // A reader that stops early (`| head`) is no error; a full disk behind the output is one.
  if (error.code === 'EPIPE') process.exit(EXIT.ok)
  process.exit(tell(io, [fileProblem('the output', error)], EXIT.output))
})

try {
  process.exitCode = await run(process.argv.slice(2), io)
} catch (error) {
  io.err(
    `tenterhook: this is a fault of ours. Please report it to the project, with the command and the lines below.\n${error instanceof Error ? error.stack : String(error)}\n`,
  )
  process.exitCode = EXIT.internal
}
