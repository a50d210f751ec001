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
    name: 'plan',
    summary: 'how many to pull, in which order, and whether the rig suits it',
    load: () => import('./commands/plan.ts'),
  },
  {
    name: 'rig',
    summary: 'the rig itself: its description, a quick scale, stiffness, settling',
    load: () => import('./commands/rig.ts'),
  },
  {
    name: 'calibrate',
    summary: 'known loads → fit, errors, class, doubt',
    load: () => import('./commands/calibrate.ts'),
  },
  {
    name: 'check',
    summary: 'one known mass before the day’s work: does the rig still read as it should?',
    load: () => import('./commands/check.ts'),
  },
  {
    name: 'ports',
    summary: 'the serial ports of this computer',
    load: () => import('./commands/ports.ts'),
  },
  {
    name: 'record',
    summary: 'a rig, live → the store; nothing is lost',
    load: () => import('./commands/record.ts'),
  },
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
  {
    name: 'timeline',
    summary: 'control variant, daily checks and re-readings over the weeks → what changed',
    load: () => import('./commands/timeline.ts'),
  },
  {
    name: 'figure',
    summary: 'one figure of a study → SVG or PNG',
    load: () => import('./commands/figure.ts'),
  },
  {
    name: 'report',
    summary: 'a study → one page, PDF or Markdown',
    load: () => import('./commands/report.ts'),
  },
  {
    name: 'package',
    summary: 'a study → a data package that others can check and use',
    load: () => import('./commands/package.ts'),
  },
  {
    name: 'captions',
    summary: 'force and peak as captions of a clip → WebVTT or SRT',
    load: () => import('./commands/captions.ts'),
  },
  {
    name: 'overlay',
    summary: 'the force as it happened → a transparent clip to lay over a video',
    load: () => import('./commands/overlay.ts'),
  },
  {
    name: 'retrace',
    summary: 'one curve told step by step → pictures and a clip',
    load: () => import('./commands/retrace.ts'),
  },
  {
    name: 'sync',
    summary: 'the sound of a clip → where in it each recording lies',
    load: () => import('./commands/sync.ts'),
  },
  {
    name: 'start',
    summary: 'the app in the browser, on this computer',
    load: () => import('./commands/start.ts'),
  },
  {
    name: 'list',
    summary: 'the recordings of the store',
    load: () => import('./commands/list.ts'),
  },
  {
    name: 'show',
    summary: 'one recording of the store, and how it reads',
    load: () => import('./commands/show.ts'),
  },
  {
    name: 'import',
    summary: 'logs or data packages → the store',
    load: () => import('./commands/import.ts'),
  },
  {
    name: 'specimen',
    summary: 'what is said of specimens: variant, name, rig, typed peaks; all can be taken back',
    load: () => import('./commands/specimen.ts'),
  },
  {
    name: 'export',
    summary: 'a recording of the store → CSV, JSON Lines, Parquet, the log as received',
    load: () => import('./commands/export.ts'),
  },
  {
    name: 'backup',
    summary: 'the whole store → one file',
    load: () => import('./commands/backup.ts'),
  },
  {
    name: 'restore',
    summary: 'a backup → the store',
    load: () => import('./commands/restore.ts'),
  },
  {
    name: 'verify',
    summary: 'is the store sound? does a data package follow from its raw data?',
    load: () => import('./commands/verify.ts'),
  },
  {
    name: 'demo',
    summary: 'an invented study, made, read and compared: a tour in a minute',
    load: () => import('./commands/demo.ts'),
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
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      outputError: text => io.err(usageText(text, name)),
    })
  try {
    await command.parseAsync(rest, { from: 'user' })
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage
    throw error
  }
  return code
}

/** What is wrong with the command line, in our own voice, and where help is. */
function usageText(text: string, name: string): string {
  const what = printable(text.replace(/^error: /, ''), 500)
  const dash = /unknown option '-[^-]/.test(text)
    ? ' A file whose name begins with a dash is written ./-name.'
    : ''
  return `tenterhook: ${what.charAt(0).toUpperCase()}${what.slice(1)}${/[.!?)]$/.test(what) ? '' : '.'}${dash} See: tenterhook ${name} --help\n`
}
