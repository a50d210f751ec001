import { fine, type Outcome, type Recording, wrong } from '../core/index.ts'
import type { Reading } from '../core/reading/document.ts'
import { isPractice } from '../core/study.ts'
import { fewFacts, readSpecimen } from '../logs/index.ts'
import { assemble } from './assemble.ts'
import { type Header, type JournalContents, journalContents } from './journal/entries.ts'
import { allOf } from './journal/frames.ts'
import { MOST_AT_ONCE } from './long/assembleLong.ts'
import { type JournalPieces, openLongJournal, samplesInJournal } from './long/inBlocks.ts'
import { noJournal } from './problems.ts'
import type { About, CapturedFacts, CapturedLong, CapturedWhole } from './types.ts'

/** Fewer say nothing about noise, rate or rest. */
const FEWEST_SAMPLES = 10

/**
 * The recording in a journal with its batch reading: made by the same functions whether it was ended or left
 * behind.
 */
export function capturedFrom(
  log: Uint8Array,
  where: string,
  how: CapturedFacts['how'],
): Outcome<CapturedWhole> {
  const contents = journalContents(log)
  if (contents === null) return wrong(noJournal(where))
  const { header } = contents
  const assembled = assemble(contents, recordingName(header))
  if (!assembled.ok) return assembled
  const { recording, troubles } = assembled.value
  return fine({
    ...factsOf(header, how, reasonOf(contents)),
    recording,
    reading: readCaptured(recording, header),
    troubles,
    log,
  })
}

/**
 * As `capturedFrom`, of a journal of any length: one that is too long to be held whole is made block by
 * block.
 */
export async function capturedIn(
  pieces: JournalPieces,
  where: string,
  how: CapturedFacts['how'],
): Promise<Outcome<CapturedWhole | CapturedLong>> {
  const samples = await samplesInJournal(pieces)
  if (samples <= MOST_AT_ONCE) return capturedFrom(await allOf(pieces()), where, how)
  const opened = await openLongJournal(pieces, recordingName, where)
  if (!opened.ok) return opened
  const { header, reason } = opened.value
  return fine({ ...factsOf(header, how, reason), recording: null, long: opened.value.recording, log: pieces })
}

/** What the header of a journal tells. */
export const factsOf = (header: Header, how: CapturedFacts['how'], reason: string | null): CapturedFacts => ({
  id: header.id,
  how,
  startedAt: header.startedAt,
  source: header.source,
  about: header.about,
  specimenId: header.plan.specimenId,
  elements: header.plan.elements,
  rig: header.rig,
  capacityN: toldCapacity(header),
  reason,
})

function reasonOf({ entries }: JournalContents): string | null {
  for (const entry of entries) if (entry.what === 'end') return entry.reason
  return null
}

/** `paste-3 2026-11-25 14-22-03`: what it is about, and when, fit for a file's name on every system. */
export function recordingName({ about, startedAt }: Header): string {
  const label = (about.specimen ?? 'recording').replace(/[^\p{L}\p{N}_.-]+/gu, '-').slice(0, 60)
  return `${label} ${startedAt.slice(0, 19).replace('T', ' ').replaceAll(':', '-')}`
}

/** The capacity where it is not just that of the rig. */
const toldCapacity = ({ capacityN, rig }: Header): number | null =>
  capacityN === (rig?.document.cell.capacityN ?? null) ? null : capacityN

/** As the store reads it with the rig that is kept. */
function readCaptured(
  recording: Recording,
  { about, plan, capacityN, rig, source, startedAt }: Header,
): Outcome<Reading> {
  if (recording.timeS.length < FEWEST_SAMPLES) {
    return wrong({
      where: recording.name,
      what: `it holds ${recording.timeS.length} samples, too few to read.`,
      cure: 'It is kept all the same. Record again, with some rest before the pull.',
    })
  }
  const read = readSpecimen({
    recordings: [recording],
    rig: rig?.document ?? null,
    day: startedAt.slice(0, 10),
    calibration: null,
    capacityN,
    isPractice: isPractice({ device: source }),
    facts: specimenFactsIn(about, plan),
    adjustments: [],
  })
  return read.ok ? fine(read.value.reading) : read
}

/** The labels that it was recorded under: what the store says of a specimen of which no more is known. */
const specimenFactsIn = ({ specimen, variant }: About, { elements }: Header['plan']) =>
  specimen === null ? fewFacts({ elements }) : fewFacts({ name: specimen, variant, elements })
