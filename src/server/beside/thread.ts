import { parentPort, workerData } from 'node:worker_threads'
import { diskFiles } from '../../capture/index.ts'
import { openStore, type Store, StoreFault, storePlace } from '../../store/index.ts'
import { readJournal } from '../desk/readJournal.ts'
import type { Bench } from '../route.ts'
import { readHere, takeInHere } from '../storeCaptured.ts'
import { allRoutes } from '../table.ts'
import type { Question, Reply, ThreadData } from './messages.ts'

/**
 * The script of the thread that does the heavy work of the server: importing, packing, telling, reading. However long it
 * takes, the capture in the main thread goes on. It has the store open by itself; of the line to a device it knows nothing.
 */
const port = parentPort
if (!port) throw new Error('thread is the script of a thread')
const { folder } = workerData as ThreadData
const routes = allRoutes()
const pieces = new Map<number, AsyncIterator<Uint8Array | string>>()
let opening: Promise<Store> | null = null

const say = (reply: Reply): void => port.postMessage(reply)

function store(): Promise<Store> {
  const place = storePlace(folder, {})
  if (!place.ok) throw new Error(place.problems[0]?.what)
  opening ??= openStore(place.value).catch((error: unknown) => {
    opening = null
    throw error
  })
  return opening
}

async function answerRoute(question: Extract<Question, { ask: 'route' }>): Promise<void> {
  const { id, method, path, params, query, body } = question
  const route = routes.find(one => one.method === method && one.path === path)
  if (!route) throw new Error(`the thread knows no route ${method} ${path}`)
  // Nothing that is done beside asks for the line; a capture does not hold it up, nor the other way round.
  const bench = { store: await store(), desk: { recording: false } } as unknown as Bench
  const { body: made, ...answer } = await route.run({ bench, params, query, body })
  if (answer.type === undefined || made instanceof Uint8Array) {
    say({ id, is: 'answer', answer: { ...answer, body: made }, body: 'whole' })
    return
  }
  pieces.set(id, iteratorOf(made as AsyncIterable<Uint8Array> | Iterable<string>))
  say({ id, is: 'answer', answer, body: 'pieces' })
}

async function* iteratorOf(
  made: AsyncIterable<Uint8Array> | Iterable<string>,
): AsyncGenerator<Uint8Array | string> {
  yield* made
}

async function work(question: Question): Promise<void> {
  const { id } = question
  switch (question.ask) {
    case 'route':
      return answerRoute(question)
    case 'journal':
      return say({ id, is: 'journal', read: await readJournal(question.journal, diskFiles) })
    case 'specimen': {
      const read = await readHere(await store())(question.specimenId)
      return say({ id, is: 'specimen', read })
    }
    case 'take-in': {
      const stored = await takeInHere(await store())(question.path, question.how)
      return say({ id, is: 'taken-in', stored })
    }
    case 'next': {
      const next = await pieces.get(id)?.next()
      const isOver = next === undefined || next.done === true
      if (isOver) pieces.delete(id)
      return say({ id, is: 'piece', piece: isOver ? null : next.value })
    }
    case 'stop':
      await pieces.get(id)?.return?.(undefined)
      pieces.delete(id)
  }
}

port.on('message', (question: Question) => {
  work(question).catch((error: unknown) => {
    pieces.delete(question.id)
    if (error instanceof StoreFault) say({ id: question.id, is: 'store-fault', problem: error.problem })
    else {
      const text = error instanceof Error ? (error.stack ?? error.message) : String(error)
      say({ id: question.id, is: 'fault', text })
    }
  })
})
