import { expose } from 'comlink'
import { serverBackend } from '../data/serverBackend.ts'
import { makeEngine } from './makeEngine.ts'

expose(makeEngine(serverBackend.recordings.samples))
