import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { parseDeviceLine } from '../../src/capture/protocol.ts'

test('every example line of docs/line-protocol.md is a line of the protocol', () => {
  const text = readFileSync(new URL('../../docs/line-protocol.md', import.meta.url), 'utf8')
  const lines = [...text.matchAll(/^(?:device {4})?((?:s |tenterhook 1|ok |no ).*\*[0-9A-F]{4})$/gm)].map(
    found => found[1]!,
  )
  expect(lines.length).toBeGreaterThanOrEqual(10)
  for (const line of lines) expect(parseDeviceLine(line), line).not.toMatchObject({ kind: 'broken' })
})
