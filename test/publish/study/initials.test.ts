import { expect, test } from 'vitest'
import { initialsOf } from '../../../src/publish/study/initials.ts'

test.each([
  ['Ada Lindner', 'A. L.'],
  ['Jean-Luc van Dyk', 'J-L. V. D.'],
  ['Østergård, Åse', 'Ø. Å.'],
  ['王 小明', '王. 小.'],
  ['A. L.', 'A. L.'],
  ['', ''],
  ['42', '42'],
])('%s is %s', (name, initials) => expect(initialsOf(name)).toBe(initials))
