import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'

const root = fileURLToPath(new URL('..', import.meta.url))
let folder = ''

/** A project of somebody else's, with this package among its dependencies. */
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-user-'))
  mkdirSync(join(folder, 'node_modules'))
  symlinkSync(root, join(folder, 'node_modules', 'tenterhook'), 'junction')
  writeFileSync(join(folder, 'package.json'), '{"name": "user", "type": "module"}')
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

const log = Array.from({ length: 200 }, (_, i) => {
  const forceN = i < 40 || i > 150 ? 0 : (i - 40) * 0.5
  return `${(i / 10).toFixed(1)},${forceN}`
}).join('\\n')

test('the engine runs from the package, from bytes to the peak', () => {
  writeFileSync(
    join(folder, 'use.mjs'),
    `import { readRecording } from 'tenterhook/core'
     import { readLog } from 'tenterhook/logs'
     const log = readLog(new TextEncoder().encode('time_s,force_N\\n${log}'), 'a.csv')
     if (!log.ok) throw new Error(JSON.stringify(log.problems))
     process.stdout.write(String(readRecording(log.value).results.peakForce.indicatedN))`,
  )
  expect(execFileSync(process.execPath, ['use.mjs'], { cwd: folder, encoding: 'utf8' })).toBe('55')
})

test('its types are found and say what a wrong use is', () => {
  writeFileSync(
    join(folder, 'use.ts'),
    `import { readRecording, type Reading, type Recording } from 'tenterhook/core'
     export const peakOf = (recording: Recording): number | null => readRecording(recording).results.peakForce.valueN
     export const nameOf = (reading: Reading): string => reading.recording.name
     // @ts-expect-error a recording is not a number
     readRecording(3)`,
  )
  const compilerOptions = {
    strict: true,
    noEmit: true,
    module: 'NodeNext',
    target: 'ES2023',
    skipLibCheck: true,
    types: [],
  }
  writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions, files: ['use.ts'] }))
  const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc')
  expect(execFileSync(process.execPath, [tsc, '-p', folder], { encoding: 'utf8' })).toBe('')
})
