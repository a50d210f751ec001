import { serverBackend } from '../../data/serverBackend.ts'
import { serveTelling } from './serveTelling.ts'

serveTelling({
  samples: serverBackend.recordings.samples,
  log: serverBackend.recordings.log,
  // Only packages ask how a log was told to be read, and those the server makes.
  logOptions: async () => ({}),
  rigs: serverBackend.rigs.list,
  checks: serverBackend.checks.list,
  notes: serverBackend.notes.list,
  photos: serverBackend.photos.list,
  photo: serverBackend.photos.content,
})
