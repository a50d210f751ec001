import type { Problem } from '../../core/problem.ts'
import { Conflict, Trouble, Unreachable } from './trouble.ts'

/** Asking the server. `bytes` go as they are, anything else as JSON. Rejects with a `Trouble`. */
export interface Asked {
  readonly method?: 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE'
  readonly query?: Readonly<Record<string, string | number | boolean | null | undefined>>
  readonly body?: unknown
  readonly bytes?: Uint8Array<ArrayBuffer>
  /** Ends the asking; the promise then rejects with the signal's reason. */
  readonly signal?: AbortSignal
}

const addressOf = (path: string, query: Asked['query'] = {}): string => {
  const words = new URLSearchParams()
  for (const [name, value] of Object.entries(query))
    if (value !== undefined && value !== null) words.set(name, String(value))
  const tail = words.toString()
  return tail === '' ? path : `${path}?${tail}`
}

/** The answer as it comes, for what is read while it does. */
export async function ask(
  path: string,
  { method = 'GET', query, body, bytes, signal }: Asked,
): Promise<Response> {
  let response: Response
  try {
    response = await fetch(addressOf(path, query), {
      method,
      signal: signal ?? null,
      ...(bytes !== undefined
        ? { body: bytes, headers: { 'content-type': 'application/octet-stream' } }
        : body !== undefined
          ? { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }
          : {}),
    })
  } catch {
    signal?.throwIfAborted()
    throw new Unreachable([
      {
        where: 'the server',
        what: 'it does not answer.',
        cure: 'Look whether Tenterhook still runs in its terminal; this page goes on by itself once it is back.',
      },
    ])
  }
  if (response.ok) return response
  const problems = await problemsIn(response)
  throw response.headers.get('x-conflict') === 'changed' ? new Conflict(problems) : new Trouble(problems)
}

async function problemsIn(response: Response): Promise<readonly Problem[]> {
  try {
    const { problems } = (await response.json()) as { problems?: readonly Problem[] }
    if (problems && problems.length > 0) return problems
  } catch {
    // Not JSON: something between the page and the server answered.
  }
  return [
    {
      where: 'the server',
      what: `it answered ${response.status} and no more.`,
      cure: 'Reload the page; start Tenterhook again if that does not help.',
    },
  ]
}

export const askJson = async <T>(path: string, asked: Asked = {}): Promise<T> =>
  (await ask(path, asked)).json() as Promise<T>

export const askBytes = async (path: string, asked: Asked = {}): Promise<ArrayBuffer> =>
  (await ask(path, asked)).arrayBuffer()

export const askBlob = async (path: string, asked: Asked = {}): Promise<Blob> =>
  (await ask(path, asked)).blob()
