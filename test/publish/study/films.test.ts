import { expect, test } from 'vitest'
import { filmsFrom, type KeptFilm, keptFilms, withFilm } from '../../../src/publish/study/films.ts'
import type { Sync } from '../../../src/publish/sync/document.ts'
import { nudged, placedByHand } from '../../../src/publish/sync/place.ts'
import { pretendRecording } from '../../store/pretendRecording.ts'

const sync = (name: string, lengthS: number): Sync => ({
  document: 'tenterhook.sync',
  version: 1,
  clip: { name, lengthS, transients: 3 },
  placements: [nudged(placedByHand(pretendRecording('paste.csv').recording, 4.5), 0.1)],
  notPlaced: [{ recording: { name: 'glue.csv', sha256: 'ab' }, fromS: 0, toS: 9, why: 'not heard' }],
})
const film = (name: string, lengthS = 60): KeptFilm => ({
  sync: sync(name, lengthS),
  frames: {
    width: 1920,
    height: 1080,
    times: { kind: 'steady', rate: { num: 30_000, den: 1001 }, count: 1799 },
  },
})
/** As a store gives it back. */
const stored = (films: readonly KeptFilm[]): unknown => JSON.parse(JSON.stringify(keptFilms(films)))

test('films come back as they were kept, the last one first, one of each name', () => {
  const films = withFilm(withFilm(withFilm([], film('a.mp4')), film('b.mp4')), film('a.mp4', 61))
  expect(films.map(({ sync: { clip } }) => [clip.name, clip.lengthS])).toEqual([
    ['a.mp4', 61],
    ['b.mp4', 60],
  ])
  expect(filmsFrom(stored(films))).toEqual(films)
})

test('uneven frames are not kept: they are read again from the film', () => {
  const uneven: KeptFilm = {
    ...film('phone.mp4'),
    frames: { width: 1080, height: 1920, times: { kind: 'listed', timesS: [0, 0.03, 0.1], endS: 0.2 } },
  }
  expect(filmsFrom(stored([uneven]))).toEqual([{ ...uneven, frames: null }])
})

test.each([undefined, null, 7, {}, { version: 2, films: [] }, { version: 1, films: 'x' }])(
  'what is no list of films is none: %j',
  kept => expect(filmsFrom(kept)).toEqual([]),
)

test('a film that cannot be understood does not hide the others', () => {
  const kept = keptFilms([film('a.mp4')])
  expect(filmsFrom({ ...kept, films: [{ sync: 'x' }, ...kept.films] })).toHaveLength(1)
})
