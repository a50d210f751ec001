import { listPorts } from '../../capture/index.ts'
import type { Outcome, Problem } from '../../core/problem.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import { recordingPlan } from '../desk/livePlan.ts'
import type { EndedRecording, PortList } from '../desk/liveTypes.ts'
import { lineSource } from '../lineSource.ts'
import { lineSchema, planSchema, remarkSchema, turnSchema, whySchema, zeroSchema } from '../requests.ts'
import { type Answer, answer, given, ok, type Route, refused, route } from '../route.ts'

/** A recording that is in memory alone is not kept: 507, “insufficient storage” (RFC 4918, 11.5). */
const ended = (outcome: Outcome<EndedRecording>): Answer =>
  outcome.ok && outcome.value.keptIn === 'memory'
    ? refused(507, outcome.value.problems)
    : answer(outcome, 409)

const NO_DOOR: Problem = {
  where: 'second screen',
  what: 'screens are let in at the bench only.',
  cure: 'Ask there for a code.',
}

export const liveRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/about',
    summary: 'Version, store and whether the caller may change anything',
    answers: '{ version: string, store: string }',
    run: async ({ bench }) => ok({ version: ENGINE_VERSION, store: bench.store.place }),
  }),
  route({
    method: 'GET',
    path: '/api/ports',
    summary: 'Serial ports of this computer',
    answers: 'PortList',
    // A port can still be named where the system does not tell which there are.
    async run() {
      const found = await listPorts()
      return ok(
        found.ok
          ? ({ ports: found.value, problems: [] } satisfies PortList)
          : ({ ports: [], problems: found.problems } satisfies PortList),
      )
    },
  }),
  route({
    method: 'GET',
    path: '/api/line',
    summary: 'The line to a device, and where the capture stands',
    answers: 'LineState',
    onScreen: true,
    run: async ({ bench }) => ok(bench.desk.line()),
  }),
  route({
    method: 'POST',
    path: '/api/line',
    summary: 'Opens a line: a serial port, a network line, a port that a page has open, or the pretend rig',
    answers: 'LineState',
    body: lineSchema,
    async run({ bench: { desk, pagePort }, body }) {
      const source = lineSource(body.source, pagePort)
      if (!source.ok) return answer(source)
      const { capacityN, rigId } = body
      return answer(await desk.open({ source: source.value, log: given(body.log), capacityN, rigId }), 409)
    },
  }),
  route({
    method: 'DELETE',
    path: '/api/line',
    summary: 'Closes the line; refused while a recording runs',
    answers: 'LineState',
    run: async ({ bench }) => answer(await bench.desk.close(), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/arm',
    summary: 'Waits for the first tug; samples from before it are kept',
    answers: 'CaptureState',
    body: planSchema,
    async run({ bench: { store, desk }, body }) {
      const plan = await recordingPlan(store, body)
      return plan.ok ? answer(await desk.arm(plan.value), 409) : answer(plan)
    },
  }),
  route({
    method: 'POST',
    path: '/api/line/disarm',
    summary: 'Waits no longer',
    answers: 'CaptureState',
    run: async ({ bench }) => answer(await bench.desk.disarm(), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/start',
    summary: 'Records from now on',
    answers: 'CaptureState',
    body: planSchema,
    async run({ bench: { store, desk }, body }) {
      const plan = await recordingPlan(store, body)
      return plan.ok ? answer(await desk.start(plan.value), 409) : answer(plan)
    },
  }),
  route({
    method: 'POST',
    path: '/api/line/zero',
    summary:
      'Nothing pulls now: takes the live zero anew; refused while the force moves, unless anyway. The device is told nothing',
    answers: 'ZeroTaken',
    body: zeroSchema,
    run: async ({ bench, body }) => answer(await bench.desk.zero(body?.anyway ?? false), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/turn',
    summary: 'The drive was turned once more, or a tap too many is taken back',
    answers: 'TurnsTapped',
    body: turnSchema,
    run: async ({ bench, body }) => answer(await bench.desk.turn(body?.by ?? 1), 409),
  }),
  route({
    method: 'GET',
    path: '/api/line/reading',
    summary: 'What the recording that runs reads as at this moment',
    answers: 'LiveReading',
    onScreen: true,
    run: async ({ bench }) => answer(await bench.desk.reading(), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/note',
    summary: 'A remark at this moment of the recording',
    answers: 'CaptureState',
    body: remarkSchema,
    run: async ({ bench, body }) => answer(await bench.desk.note(body.text), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/finish',
    summary: 'Ends the recording and keeps it in the store',
    answers: 'EndedRecording',
    run: async ({ bench }) => ended(await bench.desk.finish()),
  }),
  route({
    method: 'POST',
    path: '/api/line/give-up',
    summary: 'Ends the recording as one that does not count; it is kept, set aside',
    answers: 'EndedRecording',
    body: whySchema,
    run: async ({ bench, body }) => ended(await bench.desk.giveUp(body.why)),
  }),
  route({
    method: 'POST',
    path: '/api/line/redo',
    summary: 'Gives up the recording that runs, or sets the last one aside, and arms the same plan again',
    answers: 'SpecimenCommand',
    body: whySchema,
    run: async ({ bench, body }) => answer(await bench.desk.redo(body.why), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/spoil',
    summary: 'The specimen in hand is spoiled: what runs is kept, the specimen is left out of the figures',
    answers: 'SpecimenCommand',
    body: whySchema,
    run: async ({ bench, body }) => answer(await bench.desk.spoil(body.why), 409),
  }),
  route({
    method: 'POST',
    path: '/api/screens',
    summary:
      'Lets screens of the local network in from now on, to look on: a new code for one, good for one scan',
    answers: '{ code: string, links: string[] }',
    async run({ bench: { screens } }) {
      if (screens === null) return refused(409, [NO_DOOR])
      const opened = await screens.open()
      return opened.ok ? ok(screens.newCode()) : answer(opened, 409)
    },
  }),
]
