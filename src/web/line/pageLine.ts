import { createEndpoint, type Remote, transfer, wrap } from 'comlink'
import { journalPath } from '../../capture/journal/files.ts'
import type { Outcome } from '../../core/problem.ts'
import { pageDb } from '../data/page/db.ts'
import { longLog } from '../data/page/longRecordings.ts'
import { got } from '../data/trouble.ts'
import { joinLive } from '../live/joinLive.ts'
import type { LineHost, Recovered } from '../live/lineHost.ts'
import { pagePort } from '../live/pagePort.ts'
import { diskCopy } from './diskCopy.ts'
import { JOURNALS } from './pageComputer.ts'
import { piecesFrom } from './pageFiles.ts'
import { portSocket } from './portChannel.ts'
import type { PageDesk, PageEngine } from './types.ts'
import { viewerSocket } from './viewerChannel.ts'

/** The line of the page that opens from disk: its desk runs in a worker, and reads with the engine’s. */
export function pageLine(worker: Worker, engine: Worker): LineHost {
  const desk: Remote<PageDesk> = wrap<PageDesk>(worker)
  const asked = async <T>(answer: Promise<Outcome<T>>): Promise<T> => got(await answer)
  const port = pagePort({
    socketTo: () => portSocket(end => desk.joinPort(transfer(end, [end]))),
  })
  const join: LineHost['join'] = on =>
    joinLive({ ...on, open: () => viewerSocket(end => desk.join(transfer(end, [end]))) })
  const copy = diskCopy({
    running: async () => (await desk.line()).recordingId,
    journal: (id, from) => piecesFrom(journalPath(JOURNALS, id), from),
    ended: logFrom,
    onMessage: onMessage => void join({ onMessage, onAway: () => {} }),
  })
  return {
    kind: 'page',
    ports: null,
    port,
    line: () => desk.line(),
    async open(given) {
      // Asked while the person has just pressed: browsers listen to that more readily.
      void navigator.storage?.persist?.()
      const { source } = given
      if (source.kind !== 'page') return asked(desk.open(given))
      const name = await port.open(source.baud)
      return asked(desk.open({ ...given, source: { ...source, name } }))
    },
    close: () => asked(desk.close()),
    arm: plan => asked(desk.arm(plan)),
    disarm: () => asked(desk.disarm()),
    start: plan => asked(desk.start(plan)),
    zero: anyway => asked(desk.zero(anyway)),
    turn: by => asked(desk.turn(by)),
    note: text => asked(desk.note(text)),
    finish: () => asked(desk.finish()),
    giveUp: why => asked(desk.giveUp(why)),
    redo: why => asked(desk.redo(why)),
    spoil: why => asked(desk.spoil(why)),
    join,
    unsaved: {
      tryNow: () => desk.tryNow(),
      keepIn: null,
      async journal(recordingId) {
        const bytes = await asked(desk.journal(recordingId))
        return new Blob([bytes.slice()], { type: 'application/octet-stream' })
      },
    },
    copy,
    recovered: begin(desk, engine),
    screenLinks: null,
  }
}

async function begin(desk: Remote<PageDesk>, engine: Worker): Promise<Recovered> {
  const end = await wrap<PageEngine>(engine)[createEndpoint]()
  return desk.begin(transfer(end, [end]))
}

/** The log of a recording that is kept, from a place on. */
async function* logFrom(id: string, from: number) {
  const kept = await (await pageDb()).get('logs', id)
  let end = 0
  for await (const part of kept ? [kept.bytes] : longLog(id)) {
    end += part.length
    if (end > from) yield { bytes: part.subarray(Math.max(0, part.length - (end - from))), end }
  }
}
