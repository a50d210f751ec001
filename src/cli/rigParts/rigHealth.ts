import { applyRig } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { gravityOf, tensionOf } from '../../core/calibration/rigFacts.ts'
import type { Health, HealthStep } from '../../core/health/document.ts'
import { entryOf, type HealthEntry, withEntry } from '../../core/health/entry.ts'
import type { GuidedStep } from '../../core/health/guide.ts'
import { asItCame, asRigReads, judgeOnRig } from '../../core/health/judgeOnRig.ts'
import type { HealthRecord } from '../../core/health/types.ts'
import { healthWords } from '../../core/health/units.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { openLogFile } from '../openLogs.ts'
import { withStore } from '../openStore.ts'
import type { Load } from '../quantity.ts'
import { changeRig, openRig } from '../rigFile.ts'
import { tell } from '../tell.ts'
import { pen, wrapped } from '../terminal.ts'

interface HealthFlags extends LogFlags {
  readonly free?: string
  readonly hung?: string
  readonly taps?: string
  readonly byHand?: string
  readonly mass?: Load
  readonly port?: string
  readonly baud?: number
  readonly tcp?: { readonly host: string; readonly port: number }
  readonly steps: readonly GuidedStep[]
  readonly stepSeconds?: number
  readonly pause: number
  readonly logsTo?: string
  readonly rig?: string
  readonly of?: string
  readonly store?: string
  readonly askedRate?: number
  readonly within?: number
  readonly show?: ForceUnit
  readonly keep?: true
  readonly json?: true
}

/** What is wrong with a rig: from its line, from logs of the steps of a check, and from ordinary ones. */
export async function rigHealth(logs: readonly string[], flags: HealthFlags, io: Io): Promise<ExitCode> {
  const { of } = flags
  if (of === undefined) return healthOf(logs, flags, io, null)
  return withStore(io, flags.store, async store => {
    const { noRecordings, rigRecords } = await import('../../server/rigRecords.ts')
    const stored = await rigRecords(store, of)
    if (!stored.ok) return tell(io, stored.problems, EXIT.input)
    const { id, updatedAt, document, name, records } = stored.value
    if (records.length === 0 && !namesAny(logs, flags)) return tell(io, [noRecordings(name)], EXIT.input)
    const keep = (entry: HealthEntry): Promise<Outcome<unknown>> =>
      store.rigs.update(id, { document: withHealth(document as object, entry) }, updatedAt)
    return healthOf(logs, flags, io, { ...stored.value, keep })
  })
}

async function healthOf(
  logs: readonly string[],
  flags: HealthFlags,
  io: Io,
  stored: {
    readonly rig: Rig
    readonly records: readonly HealthRecord[]
    readonly keep: (entry: HealthEntry) => Promise<Outcome<unknown>>
  } | null,
): Promise<ExitCode> {
  const named: readonly (readonly [HealthStep, string | undefined])[] = [
    ['free', flags.free],
    ['mass', flags.hung],
    ['taps', flags.taps],
    ['pull', flags.byHand],
    ...logs.map(path => ['ordinary', path] as const),
  ]
  const rig = flags.rig === undefined ? null : await openRig(flags.rig)
  if (rig !== null && !rig.ok) return tell(io, rig.problems, EXIT.input)
  if (flags.keep && rig === null && stored === null)
    return tell(
      io,
      [
        {
          where: '--keep',
          what: 'it is not told which rig the history is of.',
          cure: 'Name the file of the rig with --rig, or a rig of the store with --of.',
        },
      ],
      EXIT.usage,
    )
  const records: HealthRecord[] = []
  for (const [step, path] of named) {
    if (path === undefined) continue
    const log = await openLogFile(path, { log: logOptionsOf(flags) })
    if (!log.ok) return tell(io, log.problems, EXIT.input)
    const read = readOnRig(log.value, step, rig?.value ?? null, stored?.rig ?? null)
    if (!read.ok) return tell(io, read.problems, EXIT.input)
    records.push({ step, recording: read.value })
  }
  records.push(...(stored?.records ?? []))
  const isLive = flags.port !== undefined || flags.tcp !== undefined
  if (!isLive && records.length === 0)
    return tell(
      io,
      [
        {
          where: 'rig health',
          what: 'neither a line nor a log is named.',
          cure: 'Name the line with --port or --tcp: each step is recorded in turn. Or name the log of a minute of the rig hanging free with --free. Or name a rig of the store with --of: its recordings are judged.',
        },
      ],
      EXIT.usage,
    )
  if (isLive) {
    const { liveSteps } = await import('./liveSteps.ts')
    const taken = await liveSteps(
      {
        line: flags,
        rig: stored?.rig ?? rig?.value ?? null,
        log: logOptionsOf(flags),
        askRateHz: flags.askedRate ?? null,
        // A step whose log is named is there already.
        steps: flags.steps.filter(step => !records.some(r => r.step === step)),
        lastsS: flags.stepSeconds ?? null,
        pauseS: flags.pause,
        logsTo: flags.logsTo ?? null,
      },
      io,
    )
    if (!taken.ok) return tell(io, taken.problems, EXIT.output)
    records.unshift(...taken.value)
  }
  const own = stored?.rig ?? rig?.value ?? null
  const judged = judgeOnRig(records, {
    rig: own,
    massN: flags.mass === undefined ? null : forceOf(flags.mass, own),
    show: flags.show ?? null,
    askedRateHz: flags.askedRate,
    withinN: flags.within,
  })
  if (!judged.ok) return tell(io, judged.problems, EXIT.input)
  if (flags.keep) {
    const entry = entryOf(judged.value, new Date().toISOString())
    const saved =
      stored === null
        ? await changeRig(flags.rig ?? '', given => withHealth(given, entry))
        : await stored.keep(entry)
    if (!saved.ok) return tell(io, saved.problems, EXIT.output)
  }
  if (flags.json) io.out(`${JSON.stringify(judged.value)}\n`)
  else io.out(healthText(judged.value, io))
  return EXIT.ok
}

/** A log with the sign of its rig, and in newton where the rig can: a rig file that is named must. */
function readOnRig(
  log: Recording,
  step: HealthStep,
  file: Rig | null,
  stored: Rig | null,
): Outcome<Recording> {
  const rig = file ?? stored
  const knowsSign = rig !== null && tensionOf(rig) !== undefined
  // The rests of an ordinary pull are found on the side to which it does not go.
  const recording = step === 'ordinary' && !knowsSign ? log : asItCame(log, rig)
  if (file === null) return fine(stored === null ? recording : asRigReads(recording, stored))
  const applied = applyRig(recording, { ...file, extensionAt: 'specimen' })
  return applied.ok ? fine(applied.value.recording) : applied
}

const namesAny = (logs: readonly string[], { free, hung, taps, byHand, port, tcp }: HealthFlags): boolean =>
  logs.length > 0 || [free, hung, taps, byHand, port, tcp].some(named => named !== undefined)

/** The description of a rig with one more check in its history. */
const withHealth = <T extends { readonly health?: unknown }>(given: T, entry: HealthEntry): T => ({
  ...given,
  health: withEntry((given.health as HealthEntry[] | undefined) ?? [], entry),
})

const forceOf = ({ value, unit }: Load, rig: Rig | null): number =>
  unit.kind === 'force'
    ? value * unit.factor
    : value * unit.factor * (rig === null ? 9.806_65 : gravityOf(rig).ms2)

function healthText(health: Health, io: Io): string {
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  const lines = health.healthy
    ? [
        draw(
          'strong',
          health.notKnown.length === 0
            ? 'The rig is well: nothing was found that costs a peak anything.'
            : 'In what was looked at nothing is wrong. What these records do not tell stands below.',
        ),
      ]
    : [
        draw(
          'strong',
          health.findings.length === 1
            ? 'One thing is wrong'
            : `${health.findings.length} things are wrong, gravest first`,
        ),
        ...health.findings.flatMap((f, i) => [
          '',
          wrapped(`${i + 1}. ${f.text}`, columns, '   '),
          `   ${costText(f.costN, health)}`,
          `   ${wrapped(f.cure, columns - 3, '   ')}`,
        ]),
      ]
  return `${[...lines, '', wrapped(factsLine(health), columns, '  '), ...health.notKnown.map(t => draw('pencil', wrapped(t, columns, '  '))), ''].join('\n')}`
}

/** What a finding may cost on a peak. */
function costText(costN: number | null, health: Health): string {
  if (costN === null) return 'What it costs on a peak these records do not tell.'
  if (costN === 0) return 'It costs nothing on a peak.'
  return `It may cost up to ${forceText(costN, health)} on a peak.`
}

const forceText = (forceN: number, { forceUnit }: Health): string =>
  forceUnit === null || forceUnit === 'counts'
    ? healthWords(forceUnit).forceText(forceN)
    : healthWords('N').forceText(forceN)

function factsLine(health: Health): string {
  const { rateHz, noise, bits, stepN, leastDropN } = health
  const facts = [
    rateHz === null ? null : `${threeDigits(rateHz)} readings a second`,
    noise === null ? null : `noise ${forceText(noise, health)}`,
    bits === null ? null : `${bits.toFixed(1)} of 24 bits left`,
    stepN ? `display step ${forceText(stepN, health)}` : null,
    leastDropN === null ? null : `a drop under ${forceText(leastDropN, health)} cannot be seen`,
  ]
  return `Seen: ${printable(facts.filter(f => f !== null).join(' · '), 400)}`
}
