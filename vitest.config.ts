import { defineConfig } from 'vitest/config'

/** Quick suite: `test/**\/*.test.ts`. Slow suite (coverage by simulation, long fuzz): `*.slow.test.ts`, by `npm run test:slow`. */
const slow = process.env.TENTERHOOK_SLOW === '1'
const ending = slow ? 'slow.test.ts' : 'test.ts'
const notSlow = slow ? [] : ['test/**/*.slow.test.ts']
const browser = 'test/browser'

export default defineConfig({
  test: {
    testTimeout: slow ? 900_000 : 60_000,
    // A browser on a busy machine may take a while to show what it was told.
    expect: { poll: { timeout: 15_000 } },
    pool: 'forks',
    maxWorkers: 2,
    // No test may pass by having nothing in it.
    passWithNoTests: false,
    projects: [
      {
        extends: true,
        test: {
          name: 'rooms',
          include: [`test/**/*.${ending}`],
          exclude: [...notSlow, `${browser}/**`],
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: [`${browser}/**/*.${ending}`],
          exclude: notSlow,
          // A real browser shares the machine with the test. What passes only at its second try is told by name at the end
          // of `.ci/run`, since it may be a rare fault of the program.
          retry: 1,
        },
      },
    ],
  },
})
