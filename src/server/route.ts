import type { z } from 'zod'
import type { PagePort } from '../capture/index.ts'
import type { Outcome, Problem } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import type { LiveDesk } from './desk/liveDesk.ts'
import type { ScreenDoor } from './screenDoor.ts'

export const JSON_BYTES = 1024 * 1024
export const LOG_BYTES = 256 * 1024 * 1024
export const PHOTO_BYTES = 20 * 1024 * 1024

/** What a route works on. */
export interface Bench {
  readonly store: Store
  readonly desk: LiveDesk
  /** Where heavy work is done; `null`: here. */
  readonly beside: HeavyRoutes | null
  /** Where a page of the bench hands on the bytes of its own serial port; `null` where none may. */
  readonly pagePort: PagePort | null
  /** `null` where nobody may let one in. */
  readonly screens: ScreenDoor | null
}

export interface Answer {
  readonly status: number
  /** JSON, unless `type` says otherwise. */
  readonly body: unknown
  readonly type?: string
  /** Name of a file that the body is. */
  readonly fileName?: string
  /** Refused because it was changed in between: the app offers to show that first. */
  readonly conflict?: true
}

interface Call<Q, B> {
  readonly bench: Bench
  /** The parts of the path that begin with a colon. */
  readonly params: Readonly<Record<string, string>>
  readonly query: Q
  readonly body: B
}

/** Runs routes in a thread of its own. */
export interface HeavyRoutes {
  run(route: Route, call: Call<unknown, unknown>): Promise<Answer>
}

/** One thing that can be asked of the server. The table of all of them makes the server and its description alike. */
export interface Route {
  readonly method: 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE'
  readonly path: string
  readonly summary: string
  /** What comes back, by the name of its type. */
  readonly answers: string
  /** May also be asked from a second screen: reads only, and nothing that moves a capture. */
  readonly onScreen: boolean
  readonly query: z.ZodType | null
  readonly body: z.ZodType | null
  /** Heavy: done in a thread of its own, where nothing is known of the line to a device. */
  readonly beside: boolean
  /** Most bytes of a body that is no JSON. */
  readonly bytes: number | null
  readonly run: (call: Call<unknown, unknown>) => Promise<Answer>
}

interface RouteOf<Q extends z.ZodType, B extends z.ZodType>
  extends Pick<Route, 'method' | 'path' | 'summary' | 'answers'> {
  readonly onScreen?: boolean
  readonly beside?: boolean
  readonly query?: Q
  readonly body?: B
  run(call: Call<z.output<Q>, z.output<B>>): Promise<Answer>
}

/** A route whose query and body are checked against their schemas before `run` sees them. */
export const route = <Q extends z.ZodType, B extends z.ZodType>(given: RouteOf<Q, B>): Route => ({
  ...given,
  onScreen: given.onScreen ?? false,
  beside: given.beside ?? false,
  query: given.query ?? null,
  body: given.body ?? null,
  bytes: null,
  run: call => given.run(call as Call<z.output<Q>, z.output<B>>),
})

/** A route that takes the bytes of a file. */
export const bytesRoute = <Q extends z.ZodType>(
  given: Omit<RouteOf<Q, z.ZodType>, 'body' | 'run'> & {
    readonly bytes: number
    run(call: Call<z.output<Q>, Uint8Array>): Promise<Answer>
  },
): Route => ({
  ...given,
  onScreen: false,
  beside: given.beside ?? false,
  query: given.query ?? null,
  body: null,
  run: call => given.run(call as Call<z.output<Q>, Uint8Array>),
})

export const ok = (body: unknown): Answer => ({ status: 200, body })

export const refused = (status: number, problems: readonly Problem[]): Answer => ({
  status,
  body: { problems },
})

/** The value, or the problems: 404 for what is only asked for, 422 for what was sent, 409 for what was changed meanwhile. */
export const answer = <T>(
  outcome: Outcome<T>,
  bad: 404 | 409 | 422 = 422,
  shown: (value: T) => unknown = v => v,
): Answer => {
  if (outcome.ok) return ok(shown(outcome.value))
  return 'isStale' in outcome
    ? { ...refused(409, outcome.problems), conflict: true }
    : refused(bad, outcome.problems)
}

/** What was given of optional fields: leaves out those that are `undefined`, which a patch must not carry. */
export const given = <T extends object>(fields: T): { [K in keyof T]: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>
  }
