import { ofAcquisition } from './acquisition.ts'
import { asked } from './asked.ts'
import { ofBoards } from './boards.ts'
import { ofFrames } from './frames.ts'
import { ofInstruments } from './instruments.ts'
import type { WorldExport } from './support.ts'

/**
 * Pulls whose truth is known, as many programs and boards would write them. Invented, none is a real export.
 */
export const worldExports: readonly WorldExport[] = [
  ...ofFrames,
  ...ofInstruments,
  ...ofAcquisition,
  ...ofBoards,
  ...asked,
]
