import { expect, test } from 'vitest'
import { readLater } from '../../src/server/desk/readLater.ts'
import { tooLongToRead } from '../../src/server/readingMemory.ts'

const day = { id: 'k3v9', samples: 6_912_000, startS: 0, endS: 86_400 }

test('a long recording says how long it is and how much memory its reading needs', () => {
  expect(readLater(day, 'It is read when it is opened.')).toEqual({
    where: 'recording “k3v9”',
    what: 'it is stored whole: 6,912,000 samples over 24.0 h. It is not read yet: that needs about 346 MB of memory.',
    cure: 'It is read when it is opened.',
  })
})

test('what memory is not there for is refused with both figures; all recordings of a specimen count', () => {
  expect(tooLongToRead([day], 400e6)).toBeNull()
  expect(tooLongToRead([day, day], 400e6)?.what).toBe(
    'reading its 13,824,000 samples needs about 691 MB of memory, and 400 MB are free.',
  )
})

test('what is short is never refused: nothing is known to be lacking', () => {
  expect(tooLongToRead([{ ...day, samples: 2_000_000 }], 1e6)).toBeNull()
})
