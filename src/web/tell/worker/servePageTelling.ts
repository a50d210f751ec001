import { pageNotes, pagePhotos } from '../../data/page/beside.ts'
import { notThere, pageDb, pageSamples } from '../../data/page/db.ts'
import { pageChecks, pageRigs } from '../../data/page/rigs.ts'
import { Trouble } from '../../data/trouble.ts'
import { serveTelling } from './serveTelling.ts'

async function keptLog(id: string) {
  const log = await (await pageDb()).get('logs', id)
  if (!log) throw new Trouble([notThere('recording', id)])
  return log
}

/** Makes what is taken away from a study of the page, in this thread. */
export const servePageTelling = (): void =>
  serveTelling({
    samples: pageSamples,
    log: async id => (await keptLog(id)).bytes,
    logOptions: async id => (await keptLog(id)).options,
    rigs: pageRigs.list,
    checks: pageChecks.list,
    notes: pageNotes.list,
    photos: pagePhotos.list,
    photo: pagePhotos.content,
  })
