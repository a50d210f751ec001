import { expect, test } from 'vitest'
import { liveHub, type ViewerSocket } from '../../../src/server/desk/liveHub.ts'
import { thinnedBatch, type ViewerMessage } from '../../../src/server/desk/liveMessages.ts'

/** A viewer whose network takes nothing until it is drained. */
function viewer({ isSlow = false } = {}) {
  const got: ViewerMessage[] = []
  const socket = {
    bufferedAmount: 0,
    got,
    ended: false,
    isSlow,
    send(text: string) {
      if (socket.isSlow) socket.bufferedAmount += text.length
      got.push(JSON.parse(text) as ViewerMessage)
    },
    close() {
      socket.ended = true
    },
    terminate() {
      socket.ended = true
    },
  }
  return socket satisfies ViewerSocket
}

const snapshot = (): ViewerMessage => ({
  kind: 'snapshot',
  line: 'rig',
  rig: null,
  snapshot: null,
  reading: null,
  unsaved: [],
})
const note = (i: number): ViewerMessage => ({ kind: 'note', atS: i, of: 'line', text: 'x'.repeat(80) })
const times = (socket: ReturnType<typeof viewer>) => socket.got.map(m => (m.kind === 'note' ? m.atS : m.kind))

test('a slow viewer loses messages, the others none; once it has caught up it begins with a snapshot', () => {
  const hub = liveHub(snapshot, { mostWaiting: 300 })
  const [quick, slow] = [viewer(), viewer({ isSlow: true })]
  hub.join(quick)
  hub.join(slow)
  for (let i = 0; i < 100; i++) hub.tell(note(i))
  expect(times(quick)).toEqual(['snapshot', ...Array.from({ length: 100 }, (_, i) => i)])
  expect(slow.got.length).toBeLessThan(6)
  expect(slow.bufferedAmount).toBeLessThan(500)
  slow.isSlow = false
  slow.bufferedAmount = 0
  hub.tell(note(100))
  hub.tell(note(101))
  expect(times(slow).slice(-3)).toEqual(['snapshot', 100, 101])
})

test('a viewer who stays behind is let go; it holds nothing', () => {
  let nowMs = 0
  const hub = liveHub(snapshot, { mostWaiting: 100, patienceMs: 1000, nowMs: () => nowMs })
  const stuck = viewer({ isSlow: true })
  hub.join(stuck)
  for (let i = 0; i < 3; i++) hub.tell(note(i))
  nowMs = 900
  hub.tell({ kind: 'beat' })
  expect(stuck.ended).toBe(false)
  nowMs = 1100
  hub.tell({ kind: 'beat' })
  expect(stuck.ended).toBe(true)
  expect(hub.viewers).toBe(0)
})

test('a viewer that throws is let go, the others go on', () => {
  const hub = liveHub(snapshot)
  const [broken, whole] = [viewer(), viewer()]
  hub.join(broken)
  hub.join(whole)
  broken.send = () => {
    throw new Error('gone')
  }
  hub.tell(note(1))
  expect(hub.viewers).toBe(1)
  expect(times(whole)).toEqual(['snapshot', 1])
})

test('there is a most of viewers', () => {
  const hub = liveHub(snapshot, { mostViewers: 2 })
  const leave = hub.join(viewer())
  hub.join(viewer())
  expect(hub.join(viewer())).toBeNull()
  leave?.()
  expect(hub.join(viewer())).not.toBeNull()
})

test('a large batch is thinned to a bounded number of points, its extremes and its order kept', () => {
  const n = 5000
  const timeS = Float64Array.from({ length: n }, (_, i) => i / 1000)
  const forceN = Float64Array.from({ length: n }, (_, i) =>
    i === 1234 ? 99 : i === 4321 ? -99 : Math.sin(i),
  )
  const thin = thinnedBatch(timeS, forceN)
  expect(thin.timeS.length).toBeLessThanOrEqual(256)
  expect(Math.max(...thin.forceN)).toBe(99)
  expect(Math.min(...thin.forceN)).toBe(-99)
  expect(thin.timeS).toEqual([...thin.timeS].sort((a, b) => a - b))
  expect(thinnedBatch(timeS.subarray(0, 10), forceN.subarray(0, 10)).timeS).toHaveLength(10)
})
