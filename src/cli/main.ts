import { EXIT, processIo } from './io.ts'
import { run } from './run.ts'

const io = processIo()

// A reader that stops early (`| head`) is not an error of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(EXIT.ok)
  throw error
})

try {
  process.exitCode = await run(process.argv.slice(2), io)
} catch (error) {
  io.err(
    `tenterhook: this is a fault of ours, please report it.\n${error instanceof Error ? error.stack : String(error)}\n`,
  )
  process.exitCode = EXIT.internal
}
