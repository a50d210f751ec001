import { mkdtemp, rm } from 'node:fs/promises'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import type { ServerOptions } from '../../src/server/start.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { misfit } from './answersFit.ts'

export interface Running {
  readonly server: RunningServer
  readonly store: Store
  readonly folder: string
  readonly faults: unknown[]
  stop(): Promise<void>
}

export async function running({
  lan = false,
  webFolder = null,
  screensAt,
}: Partial<Pick<ServerOptions, 'lan' | 'webFolder' | 'screensAt'>> = {}): Promise<Running> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-server-'))
  const store = await openStore(good(storePlace(join(folder, 'store'), {})))
  const faults: unknown[] = []
  const server = good(
    await startServer({
      store,
      port: 0,
      lan,
      webFolder,
      ...(screensAt && { screensAt }),
      onTrouble: problems => faults.push(...problems),
      onFault: (_, error) => faults.push(error),
    }),
  )
  return {
    server,
    store,
    folder,
    faults,
    async stop() {
      await server.stop()
      await store.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

export interface Asked {
  readonly status: number
  readonly headers: Record<string, string | string[] | undefined>
  readonly text: string
  readonly bytes: Buffer
}

/**
 * A request with every header as given, the path as it stands: `fetch` would mend both. Fails where the answer is not
 * what the server's description says.
 */
export function ask(
  { port, host = '127.0.0.1' }: { port: number; host?: string },
  method: string,
  path: string,
  { headers = {}, body }: { headers?: Record<string, string>; body?: string | Uint8Array } = {},
): Promise<Asked> {
  return new Promise((resolve, reject) => {
    const sent = request({ host, port, method, path, headers, agent: false }, answer => {
      const parts: Buffer[] = []
      answer.on('data', (part: Buffer) => parts.push(part))
      answer.on('error', reject)
      answer.on('end', () => {
        const bytes = Buffer.concat(parts)
        const text = bytes.toString()
        const isJson = answer.headers['content-type']?.startsWith('application/json')
        const wrong = answer.statusCode === 200 && isJson ? misfit(method, path, text) : null
        if (wrong !== null) reject(new Error(wrong))
        else resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text, bytes })
      })
    })
    sent.on('error', reject)
    sent.end(body)
  })
}

export const json = (value: unknown) => ({
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(value),
})
