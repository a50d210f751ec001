import type { TypedPeak } from './reading/typedReading.ts'

/** What people say of a study, its variants and its specimens, as plain data. Times are ISO 8601 in UTC; a figure that is not known is `null`. */

export interface Study {
  readonly id: string
  readonly name: string
  readonly question: string
  /** The short list that every specimen's failure mode is taken from. */
  readonly failureModes: readonly string[]
  /** What is compared: the peak force, or it over the specimen's width or cross-section. */
  readonly quantity: 'force' | 'force-per-width' | 'force-per-area'
  /** Equal elements (dots, stitches) of a specimen, unless the variant or the specimen says otherwise. */
  readonly elements: number | null
  readonly plannedPerVariant: number | null
  /** The plan document, as `tenterhook plan` makes it. */
  readonly plan: unknown
  /** How the specimens were made and pulled, in the words of the maker. */
  readonly method: string
  /** How the study is told: the blocks of its page, as the app arranges them. */
  readonly tell: unknown
  /** Where its recordings lie in films: the sync documents that the app keeps. */
  readonly films: unknown
  /** The user's own familiar weights, to say a force in; `plural` may be `''`, for the usual one. */
  readonly equivalents: readonly {
    readonly name: string
    readonly plural: string
    readonly massKg: number
  }[]
  readonly archived: boolean
  readonly createdAt: string
  readonly updatedAt: string
}
export type StudyFields = Omit<Study, 'id' | 'createdAt' | 'updatedAt'>

export interface Variant {
  readonly id: string
  readonly studyId: string
  readonly name: string
  /** Order in the study, from 0. */
  readonly place: number
  /** Pulled each day to tell a change of the rig from a change of the specimens. */
  readonly control: boolean
  readonly elements: number | null
  readonly note: string
}
export type VariantFields = Omit<Variant, 'id' | 'studyId' | 'place'>

export interface Specimen {
  readonly id: string
  readonly studyId: string
  readonly variantId: string | null
  readonly name: string
  /** `left-out` keeps it in sight but out of the figures, for the reason given. */
  readonly status: 'planned' | 'pulled' | 'left-out'
  readonly statusReason: string
  /** One of the study's list. */
  readonly failureMode: string | null
  readonly operator: string
  readonly batch: string
  readonly temperatureC: number | null
  readonly humidityPct: number | null
  readonly widthMm: number | null
  readonly thicknessMm: number | null
  readonly lengthMm: number | null
  readonly elements: number | null
  readonly note: string
  /** Day of the pull (ISO 8601), as a person told it. */
  readonly pulledOn: string | null
  /** Which pull of the study it was, counted from 1, as a person told it. */
  readonly pullOrder: number | null
  /** What a scale with a peak hold showed; it is the reading as long as the specimen has no recording. */
  readonly typedPeak: TypedPeak | null
  readonly createdAt: string
  readonly updatedAt: string
}
export type SpecimenFields = Omit<Specimen, 'id' | 'studyId' | 'createdAt' | 'updatedAt'>

/** Whether a text is a day of the calendar, as `2026-05-03`. */
export const isDay = (text: string): boolean =>
  /^\d{4}-\d{2}-\d{2}$/.test(text) &&
  !Number.isNaN(Date.parse(text)) &&
  new Date(text).toISOString().startsWith(text)

/** Whether a recording came from the pretend rig: practice, and no pull of anything. `device`: what sent it. */
export const isPractice = ({ device }: { readonly device: string }): boolean =>
  device.startsWith('pretend rig ')

/** A study of which only the name was said. */
export const BLANK_STUDY: Omit<StudyFields, 'name'> = {
  question: '',
  failureModes: [],
  quantity: 'force',
  elements: null,
  plannedPerVariant: null,
  plan: null,
  method: '',
  tell: null,
  films: null,
  equivalents: [],
  archived: false,
}

/** A specimen of which only the name was said. */
export const BLANK_SPECIMEN: Omit<SpecimenFields, 'name'> = {
  variantId: null,
  status: 'planned',
  statusReason: '',
  failureMode: null,
  operator: '',
  batch: '',
  temperatureC: null,
  humidityPct: null,
  widthMm: null,
  thicknessMm: null,
  lengthMm: null,
  elements: null,
  note: '',
  pulledOn: null,
  pullOrder: null,
  typedPeak: null,
}
