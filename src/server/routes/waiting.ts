import type { Waiting } from '../desk/liveTypes.ts'
import { folderSchema } from '../requests.ts'
import { answer, type Bench, ok, type Route, route } from '../route.ts'
import { recoverIntoStore, waitingJournals } from '../storeCaptured.ts'

const waiting = async ({ store, desk }: Bench): Promise<Waiting> => ({
  unsaved: desk.safekeeping.unsaved,
  inUse: (await waitingJournals(store.folder)).inUse,
})

/** Recordings that have ended and are not in the store yet. */
export const waitingRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/waiting',
    summary: 'Recordings that are not in the store yet, and journals that another program writes',
    answers: 'Waiting',
    onScreen: true,
    run: async ({ bench }) => ok(await waiting(bench)),
  }),
  route({
    method: 'POST',
    path: '/api/waiting/try',
    summary: 'Tries at once to put all of them into the store, with those that a stopped program left behind',
    answers: 'Waiting',
    async run({ bench }) {
      await bench.desk.safekeeping.tryNow()
      await recoverIntoStore(bench.store, bench.desk.journals, bench.desk.takeIn)
      return ok(await waiting(bench))
    },
  }),
  route({
    method: 'POST',
    path: '/api/waiting/:id/folder',
    summary: 'Keeps the journal of one in another folder of this computer, until it is in the store',
    answers: 'Waiting',
    body: folderSchema,
    async run({ bench, params, body }) {
      const moved = await bench.desk.safekeeping.moveTo(params.id ?? '', body.folder)
      return moved.ok ? ok(await waiting(bench)) : answer(moved)
    },
  }),
  route({
    method: 'GET',
    path: '/api/waiting/:id/journal',
    summary: 'The journal of one, whole, to be kept elsewhere; `tenterhook import` takes it in again',
    answers: 'a file',
    async run({ bench, params }) {
      const id = params.id ?? ''
      const journal = bench.desk.safekeeping.journal(id)
      if (!journal.ok) return answer(journal, 404)
      const body = journal.value
      return { status: 200, body, type: 'application/octet-stream', fileName: `${id}.journal` }
    },
  }),
  route({
    method: 'POST',
    path: '/api/line/folder',
    summary: 'Goes on with the journal of the recording that runs in another folder of this computer',
    answers: 'null',
    body: folderSchema,
    run: async ({ bench, body }) => answer(await bench.desk.moveJournal(body.folder), 409),
  }),
]
