import { pageSamples } from '../data/page/db.ts'
import { serveEngine } from './serveEngine.ts'

serveEngine(pageSamples)
