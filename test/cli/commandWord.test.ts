import { execFileSync } from 'node:child_process'
import { expect, test } from 'vitest'
import { commandWord } from '../../src/cli/commandWord.ts'

test('a name is one word of a command, as plain as may be', () =>
  expect(['paste-1', 'paste 1', "Kim's", 'a "b"'].map(commandWord)).toEqual([
    'paste-1',
    '"paste 1"',
    '"Kim\'s"',
    `'a "b"'`,
  ]))

// There is no such shell on Windows.
test.runIf(process.platform !== 'win32')('a shell takes it as it stands, and runs nothing in it', () => {
  for (const name of [
    'paste 1',
    '$(echo ran)',
    '`echo ran`',
    'a "b" \'c\'',
    'back\\slash',
    'ten %',
    'wow!',
    '*',
  ])
    expect(execFileSync('sh', ['-c', `printf %s ${commandWord(name)}`], { encoding: 'utf8' })).toBe(name)
})
