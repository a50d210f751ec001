import { availableMemory } from 'node:process'
import { ZIP_LIMITS, type ZipLimits } from '../publish/package/zip/directory.ts'

/** A file of a package is unpacked in memory, and its samples are made of it there: more than a quarter is not to be had for it. */
const MEMORY_SHARE = 0.25

export const zipLimits = (memoryBytes = availableMemory()): ZipLimits => ({
  ...ZIP_LIMITS,
  fileBytes: Math.min(ZIP_LIMITS.fileBytes, MEMORY_SHARE * memoryBytes),
})
