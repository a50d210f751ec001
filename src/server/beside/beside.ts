import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { Worker } from 'node:worker_threads'
import { diskFiles } from '../../capture/index.ts'
import { type Store, StoreFault } from '../../store/index.ts'
import type { HeavyReads } from '../desk/heavyReadTypes.ts'
import { readJournal } from '../desk/readJournal.ts'
import type { Answer, Bench, HeavyRoutes, Route } from '../route.ts'
import { readHere } from '../storeCaptured.ts'
import type { Question, Reply, ThreadData } from './messages.ts'

/** The thread's script beside the built command line; there is none where the sources run unbuilt. */
const BUILT_THREAD = new URL('../besideThread.js', import.meta.url)

type Call = Parameters<Route['run']>[0]
/** A question without its number, which is given when it is asked. */
type Asked = Question extends infer Q ? (Q extends Question ? Omit<Q, 'id'> : never) : never

/** Does the heavy work of the server in a thread of its own, so that it never holds up a capture. */
interface Beside extends HeavyReads, HeavyRoutes {
  stop(): Promise<void>
}

/** Where the thread's script is not to be found, the same is done here. */
export function beside(store: Store, script: URL = BUILT_THREAD): Beside {
  return existsSync(fileURLToPath(script)) ? inThread(store, script) : inHere(store)
}

const inHere = (store: Store): Beside => ({
  run: (route, call) => route.run(call),
  readJournal: journal => readJournal(journal, diskFiles),
  readSpecimen: readHere(store),
  stop: async () => {},
})

function inThread({ folder }: Store, script: URL): Beside {
  let worker: Worker | null = null
  let lastId = 0
  const waiting = new Map<number, { tell(reply: Reply): void; fail(error: Error): void }>()

  const fail = (error: Error): void => {
    worker = null
    for (const one of waiting.values()) one.fail(error)
    waiting.clear()
  }
  /** Started when it is first needed, and anew where it has ended by itself. */
  const thread = (): Worker => {
    if (worker) return worker
    const started = new Worker(script, { workerData: { folder } satisfies ThreadData })
    started.unref()
    started.on('message', (reply: Reply) => {
      const one = waiting.get(reply.id)
      waiting.delete(reply.id)
      one?.tell(reply)
    })
    started.on('error', fail)
    started.on('exit', () => {
      if (worker === started) fail(new Error('the thread for heavy work ended'))
    })
    worker = started
    return started
  }
  const ask = (asked: Asked, id = ++lastId): Promise<Reply> =>
    new Promise((resolve, reject) => {
      waiting.set(id, {
        tell(reply) {
          if (reply.is === 'store-fault') reject(new StoreFault(reply.problem))
          else if (reply.is === 'fault') reject(new Error(reply.text))
          else resolve(reply)
        },
        fail: reject,
      })
      thread().postMessage({ ...asked, id }, handedOver(asked))
    })

  async function* pieces(id: number): AsyncGenerator<Uint8Array | string> {
    let isOver = false
    try {
      for (;;) {
        const reply = await ask({ ask: 'next' }, id)
        if (reply.is !== 'piece' || reply.piece === null) {
          isOver = true
          return
        }
        yield reply.piece
      }
    } finally {
      // The asker has left: what is made for it ends too.
      if (!isOver) worker?.postMessage({ id, ask: 'stop' } satisfies Question)
    }
  }

  return {
    async run({ method, path }, { params, query, body }) {
      const id = ++lastId
      const reply = await ask({ ask: 'route', method, path, params, query, body }, id)
      if (reply.is !== 'answer') throw new Error('the thread gave no answer')
      const answer = reply.answer as Answer
      return reply.body === 'whole' ? answer : { ...answer, body: pieces(id) }
    },
    async readJournal(journal) {
      const reply = await ask({ ask: 'journal', journal })
      if (reply.is !== 'journal') throw new Error('the thread read no journal')
      return reply.read
    },
    async readSpecimen(specimenId) {
      const reply = await ask({ ask: 'specimen', specimenId })
      if (reply.is !== 'specimen') throw new Error('the thread read no specimen')
      return reply.read
    },
    async takeIn(path, how) {
      const reply = await ask({ ask: 'take-in', path, how })
      if (reply.is !== 'taken-in') throw new Error('the thread took nothing in')
      return reply.stored
    },
    async stop() {
      const running = worker
      worker = null
      await running?.terminate()
    },
  }
}

const LARGE_BYTES = 4 * 2 ** 20

/** A large body that was received is handed over, not copied, which would hold up this thread. */
function handedOver(asked: Asked): ArrayBuffer[] {
  const body = asked.ask === 'route' ? asked.body : null
  if (!(body instanceof Uint8Array) || body.byteLength < LARGE_BYTES) return []
  const { buffer } = body
  return buffer instanceof ArrayBuffer && buffer.byteLength === body.byteLength ? [buffer] : []
}

/** What a route is run with; the thread has its own bench. */
export const runRoute = (bench: Bench, route: Route, call: Omit<Call, 'bench'>): Promise<Answer> =>
  route.beside && bench.beside ? bench.beside.run(route, { ...call, bench }) : route.run({ ...call, bench })
