import type { LookName } from '../../publish/figure/look.ts'
import { got } from '../data/trouble.ts'
import { useTold } from './told.tsx'
import { type Latest, useLatest } from './useLatest.ts'
import type { Telling, Told } from './worker/types.ts'

/** Everything in an open study that its page depends on; readings never change, their ids stand for them. */
const keyOf = ({ open, initials }: Told): string =>
  JSON.stringify([{ ...open, readings: open.readings.map(({ id }) => id) }, initials])

/** What the thread makes of the study as it stands, made anew when it changes or `key` does. */
export function useMade<T>(key: string, make: (telling: Telling, told: Told) => Promise<T>): Latest<T> {
  const { told, telling } = useTold()
  return useLatest(telling, `${key} ${keyOf(told)}`, async () => {
    if (telling === null) throw new Error('there is no thread to make it')
    return make(telling, told)
  })
}

/** The report as it will be saved. */
export const useReport = (look: LookName): Latest<string> =>
  useMade(look, async (telling, told) => got(await telling.report(told, look)))
