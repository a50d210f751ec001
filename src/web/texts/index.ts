import { en, type Texts } from './en.ts'

export type { Texts }

/** The texts of the app in the language of the person. English is all there is yet; another is one more file. */
export const texts: Texts = en
