import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { keyOf, pageFrom, SECTIONS, USUAL_PAGE, withParts } from '../../../src/publish/study/page.ts'

describe('the page of a study as it was kept', () => {
  test('nothing kept, or something else, is the usual page', () => {
    for (const kept of [null, undefined, 'page', 3, [], {}, { version: 2, blocks: [] }])
      expect(pageFrom(kept)).toEqual(USUAL_PAGE)
  })

  test('order, words, own sections and folded specimens stay', () => {
    const kept = {
      version: 1,
      blocks: [
        { kind: 'own', id: 'a1', shown: true, heading: 'Why', words: 'Bags tear.' },
        { kind: 'part', part: 'specimens', shown: false, words: '' },
        { kind: 'part', part: 'answer', shown: true, words: 'In short:' },
      ],
      folded: ['paste 3'],
    }
    const page = pageFrom(kept)
    expect(page.blocks.slice(0, 3)).toEqual(kept.blocks)
    expect(page.folded).toEqual(['paste 3'])
  })

  test('a part that was not known then is shown at the end, care always, and none twice', () => {
    const page = pageFrom({
      version: 1,
      blocks: [
        { kind: 'part', part: 'care', shown: false, words: '' },
        { kind: 'part', part: 'cite', shown: true, words: '' },
        { kind: 'part', part: 'cite', shown: false, words: '' },
        { kind: 'part', part: 'weather', shown: true, words: '' },
        { kind: 'own', id: '<b>', shown: true, heading: '', words: '' },
      ],
    })
    expect(page.blocks.slice(0, 2)).toEqual([
      { kind: 'part', part: 'care', shown: true, words: '' },
      { kind: 'part', part: 'cite', shown: true, words: '' },
    ])
    expect(page.blocks.map(keyOf).toSorted()).toEqual([...SECTIONS].toSorted())
    expect(page.blocks.every(block => block.shown)).toBe(true)
  })

  test('whatever was kept makes a page with every part once, which is kept and read as it is', () => {
    const anything = fc.anything({ maxDepth: 3, maxKeys: 4 })
    const nearly = fc.record({ version: fc.constant(1), blocks: fc.array(anything), folded: anything })
    fc.assert(
      fc.property(fc.oneof(anything, nearly), kept => {
        const page = pageFrom(kept)
        const parts = page.blocks.flatMap(block => (block.kind === 'part' ? [block.part] : []))
        expect([...parts].sort()).toEqual([...SECTIONS].sort())
        expect(pageFrom(JSON.parse(JSON.stringify(page)))).toEqual(page)
      }),
    )
  })

  test('some parts alone keep what the maker says before them', () => {
    const page = pageFrom({
      version: 1,
      blocks: [{ kind: 'part', part: 'cite', shown: false, words: 'Please do.' }],
    })
    expect(withParts(page, ['care', 'cite']).blocks).toEqual([
      { kind: 'part', part: 'care', shown: true, words: '' },
      { kind: 'part', part: 'cite', shown: true, words: 'Please do.' },
    ])
  })
})
