import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { FRAME_POLICY, PREVIEW_FRAME } from '../../src/publish/report/previewFrame.ts'
import { ask, running } from './running.ts'

test('The frame of the preview may stand in the app alone, and has no rights there', async () => {
  const webFolder = mkdtempSync(join(tmpdir(), 'tenterhook-web-'))
  writeFileSync(join(webFolder, 'index.html'), '<!doctype html><title>app</title>')
  const { server, stop } = await running({ webFolder })
  try {
    const host = `127.0.0.1:${server.port}`
    const navigates = { host, 'sec-fetch-mode': 'navigate', accept: 'text/html' }
    const frame = await ask(server, 'GET', '/preview', { headers: navigates })
    expect(frame.text).toBe(PREVIEW_FRAME)
    expect(frame.headers['content-security-policy']).toBe(FRAME_POLICY)
    expect(frame.headers['x-frame-options']).toBe('SAMEORIGIN')
    expect(frame.headers['content-type']).toBe('text/html; charset=utf-8')
    const app = await ask(server, 'GET', '/', { headers: navigates })
    expect(app.headers['content-security-policy']).toContain("frame-src 'self'")
    expect(app.headers['content-security-policy']).toContain("frame-ancestors 'none'")
    expect(app.headers['x-frame-options']).toBe('DENY')
  } finally {
    await stop()
    rmSync(webFolder, { recursive: true, force: true })
  }
})
