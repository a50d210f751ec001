import { expect, test } from 'vitest'
import { screenTokens } from '../../src/server/screens.ts'

test('a code is good once, and a pass for as long as it stays', () => {
  let nowMs = 0
  const screens = screenTokens(() => nowMs)
  const code = screens.newCode()
  expect(screens.redeem(`${code}x`)).toBeNull()
  const pass = screens.redeem(code)
  expect(pass).not.toBeNull()
  expect(screens.redeem(code)).toBeNull()
  expect(screens.isLetIn(pass ?? '')).toBe(true)
  expect(screens.isLetIn(code)).toBe(false)
  expect(screens.isLetIn(undefined)).toBe(false)
  nowMs = 13 * 3_600_000
  expect(screens.isLetIn(pass ?? '')).toBe(false)
})

test('a code that was not scanned in ten minutes lets nobody in', () => {
  let nowMs = 0
  const screens = screenTokens(() => nowMs)
  const code = screens.newCode()
  nowMs = 10 * 60_000 + 1
  expect(screens.redeem(code)).toBeNull()
})
