import type { Rig } from '../../core/calibration/rig.ts'
import type { PublishedPhoto, PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { slugMaker } from './slugs.ts'

export const DESCRIPTOR = 'datapackage.json'
export const README = 'README.md'
export const STUDY = 'study.json'
export const SPECIMENS = 'specimens.csv'
export const COMPARISON = 'comparison.json'
export const PLAN = 'plan.json'
export const CHECKS = 'checks.jsonl'

/** Where everything of a study lies in its package. */
export interface Layout {
  /** In the order of the study's specimens. */
  readonly specimens: readonly SpecimenPaths[]
  readonly rigs: readonly { readonly rig: Rig; readonly path: string }[]
  readonly photos: readonly string[]
}

export interface SpecimenPaths {
  readonly logs: readonly string[]
  readonly photos: readonly string[]
  readonly csv: string
  readonly parquet: string
  readonly reading: string
  readonly adjustments: string
}

/** Paths are made of the names, so that a person finds things, but safe on every system and none twice. */
export function layoutOf(study: PublishedStudy): Layout {
  const specimenSlug = slugMaker()
  const photoSlug = slugMaker()
  const rigSlug = slugMaker()
  const specimens = study.specimens.map((specimen, i): SpecimenPaths => {
    const name = specimenSlug(specimen.name, `specimen-${i + 1}`)
    const logSlug = slugMaker()
    return {
      logs: specimen.logs.map((log, n) => `raw/${name}/${logSlug(log.name, `log-${n + 1}`)}`),
      photos: specimen.photos.map(photo => photoPath(photo, name, photoSlug)),
      csv: `clean/${name}.csv`,
      parquet: `clean/${name}.parquet`,
      reading: `readings/${name}.json`,
      adjustments: `adjustments/${name}.json`,
    }
  })
  return {
    specimens,
    rigs: rigsOf(study).map(rig => ({ rig, path: `rigs/${rigSlug(`${rig.name}.json`, 'rig.json')}` })),
    photos: study.photos.map(photo => photoPath(photo, 'study', photoSlug)),
  }
}

/** Path of a rig: rigs are the same where their documents are. */
export const rigPath = ({ rigs }: Layout, rig: Rig | null): string | null =>
  rig === null ? null : (rigs.find(one => sameRig(one.rig, rig))?.path ?? null)

const sameRig = (a: Rig, b: Rig): boolean => a === b || JSON.stringify(a) === JSON.stringify(b)

function rigsOf({ rig, specimens }: PublishedStudy): Rig[] {
  const all = [rig, ...specimens.map((specimen: PublishedSpecimen) => specimen.readWith.rig)]
  const found: Rig[] = []
  for (const one of all) if (one !== null && !found.some(known => sameRig(known, one))) found.push(one)
  return found
}

const ENDINGS = { 'image/jpeg': 'jpg', 'image/png': 'png', 'image/webp': 'webp' } as const

const photoPath = (
  { name, mime }: PublishedPhoto,
  of: string,
  slug: (name: string, fallback: string) => string,
): string => {
  const stem = name.replace(/\.[^.]*$/, '')
  return `photos/${slug(`${of}-${stem}.${ENDINGS[mime]}`, `${of}.${ENDINGS[mime]}`)}`
}
