import { rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import { fileProblem } from '../../core/fileProblem.ts'
import { wrong } from '../../core/problem.ts'
import { newId } from '../../store/ids.ts'
import { answer, bytesRoute, LOG_BYTES, type Route, route } from '../route.ts'

/** All that is kept, as one file: to another computer, or into a page without a server. */
export const archiveRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/archive',
    beside: true,
    summary: 'All that is in the store as one file, made while it is sent',
    answers: 'a file',
    run: async ({ bench }) => ({
      status: 200,
      type: 'application/gzip',
      fileName: 'tenterhook.jsonl.gz',
      body: bench.store.care.archive(),
    }),
  }),
  bytesRoute({
    method: 'POST',
    path: '/api/archive',
    beside: true,
    summary: 'Takes such a file in: proved first, then what is not here yet is added',
    answers: 'ImportedArchive',
    query: z.strictObject({ name: z.string().min(1).max(255).default('the file') }),
    bytes: LOG_BYTES,
    async run({ bench: { store }, query: { name }, body }) {
      const path = join(store.folder, `.${newId()}.archive`)
      try {
        await writeFile(path, body, { mode: 0o600, flag: 'wx' })
      } catch (error) {
        await rm(path, { force: true })
        return answer(wrong(fileProblem(store.folder, error, 'writing')))
      }
      try {
        const taken = await store.care.importAll(path)
        // The person knows the file by its own name.
        return answer(
          taken.ok
            ? taken
            : wrong(
                ...taken.problems.map(problem => ({
                  ...problem,
                  where: problem.where.replace(path, name),
                })),
              ),
        )
      } finally {
        await rm(path, { force: true })
      }
    },
  }),
]
