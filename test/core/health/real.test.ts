import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'
import { healthWords } from '../../../src/core/health/units.ts'
import { type LogOptions, readLog } from '../../../src/logs/index.ts'

/** Open records of cheap converters; they stay where they are, and where they are not nothing is tested. */
const FOLDER = join(import.meta.dirname, '..', '..', '..', '..', 'shared', 'real')

/** Codes that must be found, words that must stand in the findings, and codes that would be invented. */
const KNOWN: readonly {
  readonly what: string
  /** How the hash of its bytes begins. */
  readonly sha256: string
  readonly codes: readonly string[]
  readonly words?: readonly string[]
  readonly not?: readonly string[]
  /** What a person has to say of the log. */
  readonly options?: LogOptions
}[] = [
  { what: 'a lone glitch of 745', sha256: '662eeb2375a71204', codes: ['lost', 'drift'], words: ['746'] },
  {
    what: 'a lone glitch of 18,055 and holes',
    sha256: '8d1461c97746a13a',
    codes: ['lost'],
    words: ['18055', '0.422 s'],
  },
  {
    what: 'glitches of 26,207 and 2,606',
    sha256: '3242de581db69100',
    codes: ['lost', 'drift'],
    words: ['26208', '2606'],
  },
  { what: 'drift after the burn', sha256: '7fc6bed0decc7f17', codes: ['lost', 'drift'] },
  { what: 'an untared cell', sha256: '5d0996ecf806e44b', codes: ['untared'], not: ['lost', 'hum'] },
  { what: 'a clean metal', sha256: 'baebfc44fadf40c5', codes: [], not: ['drift', 'lost', 'hum', 'jitter'] },
  {
    what: 'a clean plastic',
    sha256: '5f5ffb99b1255e53',
    codes: [],
    not: ['drift', 'lost', 'hum', 'saturated'],
  },
  {
    what: 'a plastic that yields on a coarse display',
    sha256: '78999234e5d416a7',
    codes: [],
    options: { force: '1', unit: 'N', rateHz: 10 },
    not: ['drift', 'lost', 'hum', 'saturated', 'glitch-other'],
  },
  {
    what: 'another one, that goes on yielding',
    sha256: '30232c4db9d5368f',
    codes: [],
    options: { rateHz: 10 },
    not: ['drift', 'lost', 'hum', 'saturated', 'glitch-other'],
  },
  {
    what: 'readings that come when they like',
    sha256: 'a52ade9487efcbd4',
    codes: ['jitter'],
    options: { force: 'hold0' },
    not: ['lost', 'hum', 'saturated'],
  },
]

function bytesOf(sha256: string): Buffer {
  for (const entry of readdirSync(FOLDER, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue
    const bytes = readFileSync(join(entry.parentPath, entry.name))
    if (createHash('sha256').update(bytes).digest('hex').startsWith(sha256)) return bytes
  }
  throw new Error('that record is not there any more')
}

if (existsSync(FOLDER)) {
  for (const { what, sha256, codes, words = [], not = [], options } of KNOWN) {
    test(what, () => {
      const log = readLog(bytesOf(sha256), 'record', options)
      if (!log.ok) throw new Error(log.problems[0]?.what)
      const health = judgeHealth(
        [{ recording: log.value, step: 'ordinary' }],
        healthWords(log.value.forceUnit),
      )
      if (!health.ok) throw new Error(health.problems[0]?.what)
      const found = health.value.findings.map(f => f.code)
      const text = health.value.findings.map(f => f.text).join('\n')
      for (const code of codes) expect(found, code).toContain(code)
      for (const word of words) expect(text).toContain(word)
      for (const code of not) expect(found).not.toContain(code)
    })
  }
} else test('the open records are not here', () => expect(existsSync(FOLDER)).toBe(false))
