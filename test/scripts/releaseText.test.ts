import { expect, test } from 'vitest'
import { comesAfter, releasedChangelog, versionFile } from '../../scripts/releaseText.mjs'

test('a version comes after another by its numbers, not by its letters', () => {
  for (const [version, before] of [
    ['0.2.0', '0.1.0'],
    ['0.10.0', '0.9.9'],
    ['1.0.0', '0.99.99'],
    ['0.1.10', '0.1.9'],
  ] as const) {
    expect(comesAfter(version, before)).toBe(true)
    expect(comesAfter(before, version)).toBe(false)
  }
  for (const text of ['0.1.0', '0.2', 'v0.2.0', '0.2.0-rc.1', '', 'next'])
    expect(comesAfter(text, '0.1.0')).toBe(false)
})

test('what was gathered stands under the version and its day, and nothing else changes', () => {
  const before = '# Changes\n\n## Next\n\n- `read` is faster.\n\n## 0.1.0 (2026-01-01)\n\n- All of it.\n'
  expect(releasedChangelog(before, '0.2.0', '2026-03-04')).toBe(
    '# Changes\n\n## 0.2.0 (2026-03-04)\n\n- `read` is faster.\n\n## 0.1.0 (2026-01-01)\n\n- All of it.\n',
  )
})

test('there is no release of nothing', () => {
  expect(releasedChangelog('# Changes\n\n## 0.1.0\n\n- All.\n', '0.2.0', 'x')).toBeNull()
  expect(releasedChangelog('# Changes\n\n## Next\n\n## 0.1.0\n\n- All.\n', '0.2.0', 'x')).toBeNull()
  expect(releasedChangelog('# Changes\n\n## Next\n', '0.2.0', 'x')).toBeNull()
})

test('the engine tells the new version', () => {
  expect(versionFile("/** x */\nexport const ENGINE_VERSION = '0.1.0'\n", '0.2.0')).toBe(
    "/** x */\nexport const ENGINE_VERSION = '0.2.0'\n",
  )
  expect(versionFile('export const OTHER = 1\n', '0.2.0')).toBeNull()
})
