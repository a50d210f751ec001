import { listPorts } from '../../capture/index.ts'
import { ENGINE_VERSION } from '../../core/version.ts'
import { sourceOf } from '../liveDesk.ts'
import { lineSchema, planSchema, remarkSchema, whySchema } from '../requests.ts'
import { answer, given, ok, type Route, refused, route } from '../route.ts'

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
    answers: 'PortInfo[]',
    run: async () => answer(await listPorts(), 409),
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
    summary: 'Opens a line: a serial port, a network line or the pretend rig',
    answers: 'LineState',
    body: lineSchema,
    async run({ bench: { desk, store }, body }) {
      if (body.rigId !== null) {
        const rig = await store.rigs.get(body.rigId)
        if (!rig.ok) return answer(rig)
      }
      const source = sourceOf(body.source)
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
    run: async ({ bench, body }) => answer(await bench.desk.arm(body), 409),
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
    run: async ({ bench, body }) => answer(await bench.desk.start(body), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/zero',
    summary: 'Nothing pulls now: takes the live zero anew. The device is told nothing',
    answers: 'CaptureState',
    run: async ({ bench }) => answer(await bench.desk.zero(), 409),
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
    answers: '{ recordingId: string }',
    run: async ({ bench }) => answer(await bench.desk.finish(), 409),
  }),
  route({
    method: 'POST',
    path: '/api/line/give-up',
    summary: 'Ends the recording as one that does not count; it is kept all the same',
    answers: '{ recordingId: string }',
    body: whySchema,
    run: async ({ bench, body }) => answer(await bench.desk.giveUp(body.why), 409),
  }),
  route({
    method: 'POST',
    path: '/api/screens',
    summary: 'A new code for a second screen, good for one scan',
    answers: '{ code: string }',
    async run({ bench: { screens } }) {
      if (screens) return ok({ code: screens.newCode() })
      return refused(409, [
        {
          where: 'second screen',
          what: 'this server answers on this computer only.',
          cure: 'Start it with --lan.',
        },
      ])
    },
  }),
]
