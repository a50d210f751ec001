import { once } from 'node:events'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createServer, type Server } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { makeRigCheck } from '../../../src/capture/pretend/index.ts'
import { healthSchema } from '../../../src/core/health/document.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-live-'))
let server: Server | null = null
afterAll(() => {
  server?.close()
  rmSync(folder, { recursive: true, force: true })
})

const PART = 200

/** A rig of which the line sends a minute of hanging free as fast as it can, with the device's own times, and then rests. */
async function line(): Promise<number> {
  const { logs } = makeRigCheck(4, chosen => ({ ...chosen, troubles: { driftNPerMin: 0.4 } }))
  const { timeS, forceN } = logs[0]!.recording
  const rows = Array.from(timeS, (t, i) => `${t.toFixed(4)},${forceN[i]!.toFixed(4)}\n`)
  server = createServer(socket => {
    socket.on('error', () => {})
    socket.write('time_s,force_N\n')
    let at = 0
    const timer = setInterval(() => {
      socket.write(rows.slice(at, at + PART).join(''))
      at += PART
    }, 40)
    socket.on('close', () => clearInterval(timer))
  }).listen(0, '127.0.0.1')
  await once(server, 'listening')
  return (server.address() as { port: number }).port
}

test('the steps of a check from a line, one left out, with their logs left behind', async () => {
  const port = await line()
  const words = ['rig', 'health', '--tcp', `127.0.0.1:${port}`, '--steps', 'free', '--step-seconds', '2.5']
  const { code, out, err } = await ran([...words, '--pause', '0', '--logs-to', folder, '--json'])
  expect({ code, err }).toMatchObject({ code: 0 })
  expect(err).toContain('1 of 1. Hanging free (2.5 s). Leave the rig alone')
  expect(err).toMatch(/\d+ readings\./)
  const health = healthSchema.parse(JSON.parse(out))
  expect(health.records.map(r => r.step)).toEqual(['free'])
  expect(health.findings.map(f => f.code)).toContain('drift')
  expect(health.findings.find(f => f.code === 'drift')!.size).toBeCloseTo(0.4, 1)
  expect(health.notKnown.join(' ')).toContain('Without a mass left hanging')
  const log = join(folder, 'free.csv')
  expect(existsSync(log)).toBe(true)
  expect(readFileSync(log, 'utf8')).toMatch(/^time_s,force_N\n/)
  // The log that is left behind is judged alike.
  const again = await ran(['rig', 'health', '--free', log, '--json'])
  expect(JSON.parse(again.out).findings.map((f: { code: string }) => f.code)).toContain('drift')
}, 180_000)

test('a step that is none, and a line that is not there, are told', async () => {
  expect((await ran(['rig', 'health', '--tcp', '127.0.0.1:9', '--steps', 'free,dance'])).code).toBe(2)
  server?.close()
  const { code, err } = await ran(['rig', 'health', '--tcp', '127.0.0.1:9', '--pause', '0'])
  expect(code).toBe(4)
  expect(err).toContain('127.0.0.1:9')
})
