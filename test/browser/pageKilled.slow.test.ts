import { expect, test } from 'vitest'
import { killPages } from '../faults/pageKills.ts'

/** Fifty kills are `npm run bench pageKills`; the serial port is a stub of the browser’s interface. */
test('whenever the browser is killed, all that was said 200 ms before is there when the page is opened again', async () => {
  const { due, lost, gone } = await killPages(3, 500)
  expect({ lost, gone }).toEqual({ lost: 0, gone: 0 })
  // That it was about something: each was killed after the tug.
  expect(due).toBeGreaterThan(3 * 500)
}, 240_000)
