import { ENGINE_VERSION } from '../../core/version.ts'
import { writtenFilm } from '../study/films.ts'
import type { ToldPage } from '../study/page.ts'
import type { PublishedPhoto, PublishedSpecimen, PublishedStudy } from '../study/study.ts'
import { CHECKS, COMPARISON, type Layout, PLAN, rigPath, type SpecimenPaths } from './layout.ts'
import type { StudyDocument, StudySpecimen } from './studyDocument.ts'

/** The group of a specimen without a variant, as a comparison names it. */
const NO_VARIANT = 'no variant'

/** What `study.json` says of a study whose files lie as the layout tells. */
export function toDocument(study: PublishedStudy, layout: Layout): StudyDocument {
  const { name, question, method, quantity, forceUnit, checks, plan, notCompared, madeAt } = study
  return {
    document: 'tenterhook.study',
    version: 1,
    engine: ENGINE_VERSION,
    madeAt,
    name,
    question,
    method,
    quantity,
    forceUnit,
    variants: study.variants.map(variant => ({
      name: variant.name,
      control: variant.control,
      note: variant.note,
    })),
    specimens: study.specimens.map((specimen, i) => specimenOf(specimen, layout.specimens[i]!, layout)),
    rig: rigPath(layout, study.rig),
    checks: checks.length > 0 ? CHECKS : null,
    plan: plan === null ? null : PLAN,
    comparison: comparedOf(study),
    notCompared,
    remarks: study.remarks.map(({ text, operator, at }) => ({ text, operator, at })),
    photos: photosOf(study.photos, layout.photos),
    equivalents: study.equivalents.map(one => ({ name: one.name, plural: one.plural, massKg: one.massKg })),
    page: pageOf(study.page),
    films: study.films.map(writtenFilm),
  }
}

function specimenOf(specimen: PublishedSpecimen, paths: SpecimenPaths, layout: Layout): StudySpecimen {
  const { reading, recording } = specimen
  return {
    name: specimen.name,
    variant: specimen.variant,
    status: specimen.status,
    statusReason: specimen.statusReason,
    failureMode: specimen.failureMode,
    operator: specimen.operator,
    batch: specimen.batch,
    temperatureC: specimen.temperatureC,
    humidityPct: specimen.humidityPct,
    widthMm: specimen.widthMm,
    thicknessMm: specimen.thicknessMm,
    lengthMm: specimen.lengthMm,
    elements: specimen.elements,
    note: specimen.note,
    remarks: specimen.remarks.map(({ text, operator, at }) => ({ text, operator, at })),
    pulledAt: specimen.pulledAt,
    pullOrder: specimen.pullOrder,
    photos: photosOf(specimen.photos, paths.photos),
    logs: specimen.logs.map((log, i) => ({
      path: paths.logs[i]!,
      name: log.name,
      sha256: log.sha256,
      bytes: log.byteLength,
      source: log.source,
      startedAt: log.startedAt,
      options: log.options,
    })),
    setAside: specimen.setAside.map(log => ({ name: log.name, why: log.why })),
    readWith: { ...specimen.readWith, rig: rigPath(layout, specimen.readWith.rig) },
    clean: recording === null ? null : { csv: paths.csv, parquet: paths.parquet },
    adjustments: reading?.adjustments?.length ? paths.adjustments : null,
    reading: reading === null ? null : paths.reading,
  }
}

const pageOf = ({ version, blocks, folded }: ToldPage): StudyDocument['page'] => ({
  version,
  blocks: blocks.map(block => ({ ...block })),
  folded: [...folded],
})

const photosOf = (photos: readonly PublishedPhoto[], paths: readonly string[]) =>
  photos.map(({ name, caption, mime }, i) => ({ path: paths[i]!, name, caption, mime }))

function comparedOf({ comparison, comparedWith, specimens }: PublishedStudy): StudyDocument['comparison'] {
  if (comparison === null || comparedWith === null) return null
  const left = specimens.map((specimen, place) => ({ specimen, place }))
  return {
    path: COMPARISON,
    blocksBy: comparison.blocks?.by ?? null,
    control: comparison.blocks?.control?.group ?? null,
    per: comparedWith.per,
    dimensionDoubtMm: comparedWith.dimensionDoubtMm,
    shown: comparedWith.shown,
    worthShare: comparedWith.worthShare,
    seed: comparedWith.seed,
    warnings: comparedWith.warnings.map(({ code, text }) => ({ code, text })),
    specimens: comparison.specimens.flatMap(({ name, group, mode, block, day, order, dropped }) => {
      const found = left.findIndex(
        ({ specimen }) =>
          specimen.name === name && (specimen.variant ?? NO_VARIANT) === group && specimen.reading !== null,
      )
      const [one] = found < 0 ? [] : left.splice(found, 1)
      return one ? [{ specimen: one.place, name, group, mode, block, day, order, dropped }] : []
    }),
  }
}
