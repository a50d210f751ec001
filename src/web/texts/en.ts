import { appTexts } from './en/app.ts'
import { compareTexts } from './en/compare.ts'
import { curveTexts } from './en/curve.ts'
import { healthTexts } from './en/health.ts'
import { importTexts } from './en/import.ts'
import { keepingTexts } from './en/keeping.ts'
import { planTexts } from './en/plan.ts'
import { pullTexts } from './en/pull.ts'
import { readTexts } from './en/read.ts'
import { rigTexts } from './en/rig.ts'
import { settingsTexts } from './en/settings.ts'
import { shelfTexts } from './en/shelf.ts'
import { specimensTexts } from './en/specimens.ts'
import { storageTexts } from './en/storage.ts'
import { tellTexts } from './en/tell.ts'

/** Every sentence that the app says by itself; those about a reading or a comparison come from the engine. */
export const en = {
  app: appTexts,
  curve: curveTexts,
  shelf: shelfTexts,
  import: importTexts,
  keeping: keepingTexts,
  plan: planTexts,
  rig: rigTexts,
  health: healthTexts,
  pull: pullTexts,
  read: readTexts,
  compare: compareTexts,
  specimens: specimensTexts,
  storage: storageTexts,
  tell: tellTexts,
  settings: settingsTexts,
}

export type Texts = typeof en
