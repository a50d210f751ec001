// `npm run test:soak`: records 1,000 samples a second for ten minutes and looks whether memory stays flat and nothing is
// lost. Outside the checks, since it takes as long as it says. SOAK_SECONDS makes it shorter, SOAK_RATE faster.
import { runnerImport } from 'vite'
import { root } from './prepare.mjs'

await runnerImport(`${root}/test/faults/soak.ts`, { root, configFile: false, logLevel: 'error' })
