import { writeSync } from 'node:fs'
import { NO_PLAN, openSession, type Source, streamSource } from '../../src/capture/index.ts'

/**
 * Records standard input into the journals of a folder until it is killed. Writes, for every read, how many
 * samples had come by then and when it returned (microseconds of the machine's steady clock): `samples time`
 * a line.
 */
const folder = process.argv[2] ?? '.'
const input = streamSource(process.stdin)
let seen = 0
const watched: Source = {
  ...input,
  run: (listener, stop) =>
    input.run(
      {
        ...listener,
        bytes(chunk) {
          const atUs = process.hrtime.bigint() / 1000n
          for (const byte of chunk) if (byte === 10) seen++
          listener.bytes(chunk)
          writeSync(1, `${seen} ${atUs}\n`)
        },
      },
      stop,
    ),
}

// Beats tell when this process was given no time to run: what it could not know of then cannot be asked of
// it.
setInterval(() => writeSync(1, `beat ${process.hrtime.bigint() / 1000n}\n`), 10)

const opened = await openSession({ source: watched, journals: folder })
if (!opened.ok) throw new Error(opened.problems[0]?.what)
const { value: session } = opened
session.subscribe(message => {
  if (message.kind === 'alarm')
    writeSync(2, `${message.alarm.code} ${message.alarm.over}: ${message.alarm.what}\n`)
  if (message.kind === 'closed') {
    void session.finish().then(outcome => {
      writeSync(2, outcome.ok ? `finished ${outcome.value.samples}\n` : `not finished\n`)
      process.exit()
    })
  }
})
const started = await session.start(NO_PLAN)
if (!started.ok) throw new Error(started.problems[0]?.what)
writeSync(2, 'ready\n')
