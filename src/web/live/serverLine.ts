import { askBlob, askJson } from '../data/http.ts'
import { joinLive } from './joinLive.ts'
import type { LineHost } from './lineHost.ts'
import { ownPort } from './pagePort.ts'

const post = <T>(what: string, body?: unknown): Promise<T> =>
  askJson(`/api/line${what}`, { method: 'POST', ...(body !== undefined && { body }) })

const waiting = (what: string, body?: unknown): Promise<unknown> =>
  askJson(`/api/waiting${what}`, { method: 'POST', ...(body !== undefined && { body }) })

/** The line of the server. */
export const serverLine: LineHost = {
  kind: 'server',
  ports: () => askJson('/api/ports'),
  port: ownPort,
  line: () => askJson('/api/line'),
  async open(line) {
    const { source } = line
    if (source.kind !== 'page') return post('', line)
    const name = await ownPort.open(source.baud)
    return post('', { ...line, source: { ...source, name } })
  },
  close: () => askJson('/api/line', { method: 'DELETE' }),
  arm: plan => post('/arm', plan),
  disarm: () => post('/disarm'),
  start: plan => post('/start', plan),
  zero: anyway => post('/zero', { anyway }),
  turn: by => post('/turn', { by }),
  note: text => post('/note', { text }),
  finish: () => post('/finish'),
  giveUp: why => post('/give-up', { why }),
  redo: why => post('/redo', { why }),
  spoil: why => post('/spoil', { why }),
  join: joinLive,
  unsaved: {
    tryNow: () => waiting('/try'),
    keepIn: (recordingId, folder) => waiting(`/${recordingId}/folder`, { folder }),
    journal: recordingId => askBlob(`/api/waiting/${recordingId}/journal`),
  },
  copy: null,
  recovered: null,
  screenLinks: () => askJson('/api/screens', { method: 'POST' }),
}
