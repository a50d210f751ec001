import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { hostname } from 'node:os'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Header } from '../../../src/capture/journal/entries.ts'
import { opened, released } from '../../../src/capture/journal/openHere.ts'
import { isInUse, thisWriter } from '../../../src/capture/node/inUse.ts'

const DAY_MS = 86_400_000
const header = (part: Partial<Header>): Header => part as Header
let child: ReturnType<typeof spawn>
beforeEach(async () => {
  child = spawn(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], { stdio: 'ignore' })
  await once(child, 'spawn')
})
afterEach(() => void child.kill('SIGKILL'))
const began = thisWriter().began

test('a writer that lives and is the one that began it has it in use, however long nothing came', async () => {
  const own = header({ pid: process.pid, writer: thisWriter() })
  opened('/j/own.journal')
  expect(await isInUse('/j/own.journal', own, DAY_MS)).toBe(true)
  released('/j/own.journal')
  // This process has it open no more.
  expect(await isInUse('/j/own.journal', own, 0)).toBe(false)
})

test('a number that was given to another process since is not the writer', async () => {
  const pid = child.pid ?? 0
  const other = header({ pid, writer: { host: hostname(), began: `${Number(began ?? 1) - 1}` } })
  // Where the system does not tell when a process began, the age decides.
  expect(await isInUse('/j/a.journal', other, began === null ? DAY_MS : 0)).toBe(false)
})

test('a writer that is gone has nothing in use', async () => {
  const pid = child.pid ?? 0
  child.kill('SIGKILL')
  await once(child, 'close')
  expect(await isInUse('/j/a.journal', header({ pid, writer: { host: hostname(), began: '1' } }), 0)).toBe(
    false,
  )
  expect(await isInUse('/j/a.journal', header({ pid }), 0)).toBe(false)
})

test('of a writer on another computer, and of an earlier program, only the age is known', async () => {
  const elsewhere = header({ pid: 1, writer: { host: `not-${hostname()}`, began: '1' } })
  expect(await isInUse('/j/a.journal', elsewhere, 1_000)).toBe(true)
  expect(await isInUse('/j/a.journal', elsewhere, DAY_MS)).toBe(false)
  const earlier = header({ pid: child.pid ?? 0 })
  expect(await isInUse('/j/a.journal', earlier, 1_000)).toBe(true)
  expect(await isInUse('/j/a.journal', earlier, DAY_MS)).toBe(false)
})
