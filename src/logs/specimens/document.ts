import { z } from 'zod'

/** One row of a table of specimens: what a log cannot say of the piece that was pulled. Lengths in mm. */
export const specimenRowSchema = z.object({
  line: z.int().min(1).describe('Line of the table'),
  file: z.string().min(1).describe('Name of the log, as given to the command or without its folder'),
  specimen: z.string().nullable().describe('Label of the specimen; several logs may share it'),
  variant: z.string().nullable(),
  elements: z.int().min(1).nullable().describe('Equal elements that carry side by side'),
  widthMm: z.number().positive().nullable(),
  thicknessMm: z.number().positive().nullable(),
  lengthMm: z.number().positive().nullable(),
  mode: z.string().nullable().describe('How it failed'),
  note: z.string().nullable(),
})

export const specimensTableSchema = z.array(specimenRowSchema)

export type SpecimenRow = z.infer<typeof specimenRowSchema>
