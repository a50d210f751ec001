import { pageNotes, pagePhotos } from '../../data/page/beside.ts'
import { pageLog, pageSamples } from '../../data/page/db.ts'
import { pageChecks, pageRigs } from '../../data/page/rigs.ts'
import { serveTelling } from './serveTelling.ts'

/** Makes what is taken away from a study of the page, in this thread. */
export const servePageTelling = (): void =>
  serveTelling({
    samples: pageSamples,
    log: async id => (await pageLog(id)).bytes,
    logOptions: async id => (await pageLog(id)).options,
    rigs: pageRigs.list,
    checks: pageChecks.list,
    notes: pageNotes.list,
    photos: pagePhotos.list,
    photo: pagePhotos.content,
  })
