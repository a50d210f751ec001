import type { Route } from './route.ts'
import { archiveRoutes } from './routes/archive.ts'
import { clipRoutes } from './routes/clips.ts'
import { editRoutes } from './routes/edits.ts'
import { liveRoutes } from './routes/live.ts'
import { logRoutes } from './routes/logs.ts'
import { noteRoutes } from './routes/notes.ts'
import { packageRoutes } from './routes/packages.ts'
import { publishRoutes } from './routes/publish.ts'
import { readingRoutes } from './routes/readings.ts'
import { recordingRoutes } from './routes/recordings.ts'
import { rigRoutes } from './routes/rigs.ts'
import { studyRoutes } from './routes/studies.ts'
import { waitingRoutes } from './routes/waiting.ts'

/** Everything that can be asked, in the order of the description. */
export const allRoutes = (): readonly Route[] => [
  ...studyRoutes,
  ...editRoutes,
  ...recordingRoutes(),
  ...logRoutes,
  ...readingRoutes,
  ...rigRoutes,
  ...noteRoutes,
  ...publishRoutes,
  ...packageRoutes,
  ...archiveRoutes,
  ...clipRoutes,
  ...liveRoutes,
  ...waitingRoutes,
]
