import { beforeAll, describe, expect, test } from 'vitest'
import { initialsOf, withInitials } from '../../../src/publish/study/initials.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { toldDemo } from '../toldDemo.ts'

test.each([
  ['Ada Lindner', 'A. L.'],
  ['Jean-Luc van Dyk', 'J-L. V. D.'],
  ['Østergård, Åse', 'Ø. Å.'],
  ['王 小明', '王. 小.'],
  ['A. L.', 'A. L.'],
  ['', ''],
  ['42', '42'],
])('%s is %s', (name, initials) => expect(initialsOf(name)).toBe(initials))

describe('two people of a study with the same initials', () => {
  let study: PublishedStudy
  beforeAll(async () => {
    const told = await toldDemo()
    study = {
      ...told,
      remarks: [{ text: 'Alan watched, Ada   Lindner pulled.', operator: 'ada lindner', at: null }],
      specimens: told.specimens.slice(0, 4).map((one, i) => ({
        ...one,
        operator: ['Ada Lindner', 'Alan Lorenz', 'Bea Moss', 'Alan Lorenz'][i]!,
        note: 'as Alan Lorenz did it',
        reading: one.reading && {
          ...one.reading,
          adjustments: [
            { id: 'a', kind: 'elements', count: 8, who: 'Alan Lorenz', why: 'counted', when: '2026-05-04' },
          ],
        },
      })),
    }
  }, 60_000)

  test('stay two, wherever they are named', () => {
    const reduced = withInitials(study)
    expect(reduced.specimens.map(one => one.operator)).toEqual(['A. L.', 'A. L. 2', 'B. M.', 'A. L. 2'])
    expect(reduced.specimens[0]?.note).toBe('as A. L. 2 did it')
    expect(reduced.specimens[0]?.reading?.adjustments?.[0]?.who).toBe('A. L. 2')
    expect(reduced.remarks[0]).toMatchObject({ text: 'A. 2 watched, A. L. pulled.', operator: 'A. L.' })
  })
  test('who typed initials keeps them, and reducing twice changes nothing', () => {
    const [first] = study.specimens
    const typed = { ...study, specimens: [...study.specimens, { ...first!, operator: 'A. L.' }] }
    const reduced = withInitials(typed)
    expect(reduced.specimens.map(one => one.operator)).toEqual([
      'A. L. 2',
      'A. L. 3',
      'B. M.',
      'A. L. 3',
      'A. L.',
    ])
    expect(withInitials(reduced).specimens).toEqual(reduced.specimens)
  })
})
