import { expect, test } from 'vitest'
import { ran } from '../fakeIo.ts'

test('ports are listed as JSON, or it is said why they cannot be, with the cure', async () => {
  const { code, out, err } = await ran(['ports', '--json'])
  if (code === 0) expect(Array.isArray(JSON.parse(out).ports)).toBe(true)
  else {
    expect(code).toBe(3)
    expect(err).toMatch(/they cannot be listed.*(--port|\/dev\/ttyUSB0)/)
  }
})
