import fc from 'fast-check'
import { expect, test } from 'vitest'
import { keyOf, pageFrom, SECTIONS, USUAL_PAGE } from '../../../src/publish/study/page.ts'
import { changed, folded, moved, withOwn, without } from '../../../src/web/tell/page.ts'

const keys = (page: typeof USUAL_PAGE) => page.blocks.map(keyOf)

test('a block goes where it is moved, and the others keep their order', () => {
  const page = moved(USUAL_PAGE, 'care', 0)
  expect(keys(page)).toEqual(['care', ...SECTIONS.filter(name => name !== 'care')])
  expect(keys(moved(page, 'care', 99)).at(-1)).toBe('care')
  expect(keys(moved(page, 'care', -1))[0]).toBe('care')
  expect(moved(page, 'nothing', 2)).toBe(page)
})

test('any moves keep every block once, and the last can be taken back', () => {
  const move = fc.tuple(fc.constantFrom(...SECTIONS), fc.integer({ min: -2, max: 14 }))
  fc.assert(
    fc.property(fc.array(move), move, (moves, [key, to]) => {
      const page = moves.reduce((was, [name, place]) => moved(was, name, place), USUAL_PAGE)
      expect(keys(page).toSorted()).toEqual([...SECTIONS].toSorted())
      const from = keys(page).indexOf(key)
      expect(keys(moved(moved(page, key, to), key, from))).toEqual(keys(page))
    }),
  )
})

test('own parts have ids of their own, are kept, changed and removed', () => {
  const one = withOwn(USUAL_PAGE, 'Why')
  const two = withOwn(one.page, 'Where')
  expect(keys(two.page).slice(0, 2)).toEqual(['own-2', 'own-1'])
  const words = changed(two.page, { ...two.block, words: 'In the shed.' })
  expect(words.blocks[0]).toMatchObject({ heading: 'Where', words: 'In the shed.' })
  expect(pageFrom(JSON.parse(JSON.stringify(words)))).toEqual(words)
  expect(keys(without(words, 'own-2'))[0]).toBe('own-1')
  expect(keys(withOwn(without(words, 'own-1'), 'Who').page)[0]).toBe('own-1')
})

test('a specimen is folded once, and unfolded', () => {
  const page = folded(folded(USUAL_PAGE, 'paste 3', true), 'paste 3', true)
  expect(page.folded).toEqual(['paste 3'])
  expect(folded(page, 'paste 3', false).folded).toEqual([])
})
