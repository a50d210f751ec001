import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test, vi } from 'vitest'
import { renderInBrowser } from '../../../src/publish/node/clipBrowser.ts'

afterEach(() => {
  vi.useRealTimers()
})

test('when a clip has ended, however it did, no timer of it holds the command', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tenterhook-clip-end-'))
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
  const outcome = await renderInBrowser({} as never, {
    path: join(folder, 'clip.webm'),
    browser: join(folder, 'no-such-browser'),
    pageScript: new Uint8Array(),
  })
  expect(outcome).toMatchObject({ ok: false })
  expect(vi.getTimerCount()).toBe(0)
  vi.useRealTimers()
  rmSync(folder, { recursive: true })
})
