import { expect, test } from 'vitest'
import { withoutEnding } from '../../src/core/withoutEnding.ts'

test('the ending of a file goes, a dot within its name stays, and no name is left empty', () =>
  expect(
    ['paste-1.csv', 'PASTE 1.JSONL', 'glue 1.5 mm', 'v1.2 test.csv', 'log.2026-05-03', 'paste', '.csv'].map(
      withoutEnding,
    ),
  ).toEqual(['paste-1', 'PASTE 1', 'glue 1.5 mm', 'v1.2 test', 'log.2026-05-03', 'paste', '.csv']))
