import { defineConfig } from 'vitest/config'

/** Quick suite: `test/**\/*.test.ts`. Slow suite (coverage by simulation, long fuzz): `*.slow.test.ts`, by `npm run test:slow`. */
const slow = process.env.TENTERHOOK_SLOW === '1'

export default defineConfig({
  test: {
    include: [slow ? 'test/**/*.slow.test.ts' : 'test/**/*.test.ts'],
    exclude: slow ? [] : ['test/**/*.slow.test.ts'],
    testTimeout: slow ? 900_000 : 60_000,
    // A browser on a busy machine may take a while to show what it was told.
    expect: { poll: { timeout: 15_000 } },
    pool: 'forks',
    maxWorkers: 2,
    // No test may pass by having nothing in it.
    passWithNoTests: false,
  },
})
