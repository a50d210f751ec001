import { type PagePort, pretendSource, type Source, serialSource, tcpSource } from '../capture/index.ts'
import { pretendKinds } from '../capture/pretend/index.ts'
import { printable } from '../core/printable.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'

/** The source that the app asked for. */
export function lineSource(
  asked:
    | { kind: 'serial'; path: string; baud?: number | undefined }
    | { kind: 'tcp'; host: string; port: number }
    | { kind: 'page'; name: string; baud: number }
    | { kind: 'pretend'; pull: string; seed: number; speed: number },
  pagePort: PagePort | null,
): Outcome<Source> {
  switch (asked.kind) {
    case 'serial':
      return fine(serialSource(asked.path, asked.baud === undefined ? {} : { baud: asked.baud }))
    case 'tcp':
      return fine(tcpSource(asked.host, asked.port))
    case 'page': {
      const name = `port of a page, ${printable(asked.name, 120)}, ${asked.baud} baud`
      const source = pagePort?.source(name) ?? null
      return source ? fine(source) : wrong(noPage(name))
    }
    case 'pretend': {
      const kind = pretendKinds.find(known => known === asked.pull)
      return kind
        ? fine(pretendSource({ kind, seed: asked.seed, speed: asked.speed }))
        : wrong({
            where: 'pretend rig',
            what: `there is no pull called “${printable(asked.pull)}”.`,
            cure: `Take one of ${pretendKinds.join(', ')}.`,
          })
    }
  }
}

const noPage = (where: string) => ({
  where,
  what: 'no page hands on a port.',
  cure: 'Open the line in the page that is to read the port.',
})
