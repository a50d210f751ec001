import type { CapturedFacts } from '../../capture/index.ts'
import type { JournalSoFar } from '../../capture/journal/soFar.ts'
import type { Outcome, Problem } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import type { JournalReading } from '../desk/heavyReadTypes.ts'
import type { StoredCaptured } from '../desk/storeCaptured.ts'

/** What the thread works on besides: the store that the server has open, opened once more. */
export interface ThreadData {
  readonly folder: string
}

/** What the thread is asked. */
export type Question =
  | {
      readonly id: number
      readonly ask: 'route'
      readonly method: string
      readonly path: string
      readonly params: Readonly<Record<string, string>>
      readonly query: unknown
      readonly body: unknown
    }
  | { readonly id: number; readonly ask: 'journal'; readonly journal: JournalSoFar }
  | { readonly id: number; readonly ask: 'specimen'; readonly specimenId: string }
  | {
      readonly id: number
      readonly ask: 'take-in'
      readonly path: string
      readonly how: CapturedFacts['how']
    }
  /** The next piece of an answer that comes in pieces; `stop`: no more of it is wanted. */
  | { readonly id: number; readonly ask: 'next' | 'stop' }

/** What it answers: the answer of a route, whose body may follow in pieces; or what went wrong. */
export type Reply =
  | {
      readonly id: number
      readonly is: 'answer'
      readonly answer: object
      readonly body: 'whole' | 'pieces'
    }
  | { readonly id: number; readonly is: 'piece'; readonly piece: Uint8Array | string | null }
  | { readonly id: number; readonly is: 'journal'; readonly read: Outcome<JournalReading> }
  | { readonly id: number; readonly is: 'specimen'; readonly read: Outcome<Reading> }
  | { readonly id: number; readonly is: 'taken-in'; readonly stored: Outcome<StoredCaptured> }
  /** The store cannot be reached or trusted. */
  | { readonly id: number; readonly is: 'store-fault'; readonly problem: Problem }
  | { readonly id: number; readonly is: 'fault'; readonly text: string }
