import { expect, test } from 'vitest'
import type { JoinedLook, LookAt } from '../../../../src/web/engine/types.ts'
import { type Draft, emptyDraft } from '../../../../src/web/read/adjust/draft.ts'
import { movedPart } from '../../../../src/web/read/adjust/movedPart.ts'

const TRIED = 'tried'

/** A joined curve whose part lies from 20 to 30, the draft's shift in it being `byMm` or `byS`. */
const joined = (unit: 'mm' | 's', tried: { byS: number | null; byMm: number | null } | null) => ({
  look: { unit, from: 0, to: 100, part: { from: 20, to: 30 } } as JoinedLook,
  at: {
    adjustments: tried
      ? [{ kind: 'shift', id: TRIED, fromS: 1, toS: 2, who: 'a', when: '', why: 'b', ...tried }]
      : [],
  } as unknown as LookAt,
})
const draft: Draft = { ...emptyDraft('shift'), fromS: '1', toS: '2' }

test('a part that was not moved lies where the curve has it, and a move is typed in the axis’s own field', () => {
  const given: Partial<Draft>[] = []
  const part = movedPart(draft, joined('mm', null), TRIED, change => given.push(change))
  expect(part).toMatchObject({ from: 20, to: 30, by: 0, words: 'not moved' })
  part?.onMove(-1.25)
  movedPart(draft, joined('s', null), TRIED, change => given.push(change))?.onMove(2)
  expect(given).toEqual([{ byMm: '-1.25' }, { byS: '2' }])
})

test('it runs ahead of the curve by what the curve does not have yet', () => {
  const typed = { ...draft, byMm: '7' }
  expect(movedPart(typed, joined('mm', { byS: null, byMm: 5 }), TRIED, () => {})).toMatchObject({
    from: 22,
    to: 32,
    by: 7,
    words: 'farther by 7 mm',
  })
  expect(movedPart(typed, joined('mm', { byS: null, byMm: 7 }), TRIED, () => {})).toMatchObject({ from: 20 })
})

test('there is none for another adjustment, or where nothing of the part is drawn', () => {
  expect(movedPart({ ...draft, kind: 'cut' }, joined('mm', null), TRIED, () => {})).toBeNull()
  const { look, at } = joined('mm', null)
  expect(movedPart(draft, { look: { ...look, part: null }, at }, TRIED, () => {})).toBeNull()
})
