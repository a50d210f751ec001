import { availableMemory } from 'node:process'
import type { Computer } from '../computer.ts'
import type { FileLayer } from '../journal/files.ts'
import { diskFiles } from './diskFiles.ts'
import { isInUse, thisWriter } from './inUse.ts'

/** The computer that this program runs on. `files`: a disk that stands in for its own. */
export const thisComputer = (files: FileLayer = diskFiles): Computer => ({
  files,
  writer: () => ({ pid: process.pid, writer: thisWriter() }),
  isInUse,
  freeMemoryBytes: availableMemory,
})
