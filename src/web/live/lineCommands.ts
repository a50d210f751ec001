import type {
  CaptureState,
  EndedRecording,
  Line,
  LineState,
  Plan,
  PortList,
  SpecimenCommand,
  TurnsTapped,
  ZeroTaken,
} from '../../server/apiTypes.ts'
import { askJson } from '../data/http.ts'
import { ownPort } from './pagePort.ts'

const post = <T>(what: string, body?: unknown): Promise<T> =>
  askJson(`/api/line${what}`, { method: 'POST', ...(body !== undefined && { body }) })

/**
 * The commands of the bench over the line of the server. Each rejects with a `Trouble` that says why it was refused;
 * what it brought about is told on the stream too.
 */
export const lineCommands = {
  ports: () => askJson<PortList>('/api/ports'),
  /** A port of this page is opened first: only from a press, since the person may have to choose it. */
  async open(line: Line): Promise<LineState> {
    const { source } = line
    if (source.kind !== 'page') return post('', line)
    const name = await ownPort.open(source.baud)
    return post('', { ...line, source: { ...source, name } })
  },
  close: () => askJson<LineState>('/api/line', { method: 'DELETE' }),
  arm: (plan: Plan) => post<CaptureState>('/arm', plan),
  disarm: () => post<CaptureState>('/disarm'),
  start: (plan: Plan) => post<CaptureState>('/start', plan),
  zero: (anyway: boolean) => post<ZeroTaken>('/zero', { anyway }),
  turn: (by: 1 | -1) => post<TurnsTapped>('/turn', { by }),
  note: (text: string) => post<CaptureState>('/note', { text }),
  finish: () => post<EndedRecording>('/finish'),
  giveUp: (why: string) => post<EndedRecording>('/give-up', { why }),
  redo: (why: string) => post<SpecimenCommand>('/redo', { why }),
  spoil: (why: string) => post<SpecimenCommand>('/spoil', { why }),
  /** Addresses for a second screen, each good for one scan. */
  screenLinks: () =>
    askJson<{ readonly code: string; readonly links: readonly string[] }>('/api/screens', { method: 'POST' }),
}
