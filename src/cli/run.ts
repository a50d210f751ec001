import { type Command, CommanderError } from 'commander'
import { printable } from '../core/printable.ts'
import { EXIT, type ExitCode, type Io } from './io.ts'

/**
 * The commands, in the order of the work. Each lives in a module of its own, loaded only when asked for, so that a
 * short command starts quickly. A module exports `build(io, done)`, which returns its commander command; the
 * command calls `done` with its exit code.
 */
export interface CommandModule {
  build(io: Io, done: (code: ExitCode) => void): Command
}

const COMMANDS: readonly { name: string; summary: string; load: () => Promise<CommandModule> }[] = [
  {
    name: 'read',
    summary: 'logs of a rig → peak force, pulls, breaks, doubt',
    load: () => import('./commands/read.ts'),
  },
  {
    name: 'compare',
    summary: 'groups of specimens → verdict, what was not shown, how many more',
    load: () => import('./commands/compare.ts'),
  },
]

const HELP = `tenterhook: from a home rig's log to a force that can be trusted

usage: tenterhook COMMAND [options]      tenterhook COMMAND --help

${COMMANDS.map(c => `  ${c.name.padEnd(12)}${c.summary}`).join('\n')}

Results are for comparison. They do not rate lifting, climbing, vehicle or structural gear.
`

/** Runs one command line and gives its exit code. `words` are the arguments after the program's own name. */
export async function run(words: readonly string[], io: Io): Promise<ExitCode> {
  const [name, ...rest] = words
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    io.out(HELP)
    return name === undefined ? EXIT.usage : EXIT.ok
  }
  if (name === '--version' || name === '-V') {
    const { ENGINE_VERSION } = await import('../core/version.ts')
    io.out(`${ENGINE_VERSION}\n`)
    return EXIT.ok
  }
  const entry = COMMANDS.find(c => c.name === name)
  if (!entry) {
    io.err(
      `tenterhook: there is no command “${printable(name, 40)}”. The commands are ${COMMANDS.map(c => c.name).join(', ')}.\n`,
    )
    return EXIT.usage
  }
  const module = await entry.load()
  let code: ExitCode = EXIT.ok
  const command = module
    .build(io, given => {
      code = given
    })
    .name(`tenterhook ${name}`)
    .exitOverride()
    .configureOutput({ writeOut: io.out, writeErr: io.err })
  try {
    await command.parseAsync(rest, { from: 'user' })
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage
    throw error
  }
  return code
}
