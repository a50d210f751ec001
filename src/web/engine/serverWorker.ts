import { serverBackend } from '../data/serverBackend.ts'
import { serveEngine } from './serveEngine.ts'

serveEngine(serverBackend.recordings.samples)
