import { z } from 'zod'
import { licenceOf } from '../../publish/package/licences.ts'
import { packageFiles } from '../../publish/package/packageFiles.ts'
import { slug } from '../../publish/package/slugs.ts'
import { openZip, zipInMemory } from '../../publish/package/zip/openZip.ts'
import { zipOf } from '../../publish/package/zip/zipOf.ts'
import { withInitials } from '../../publish/study/initials.ts'
import { sha256 } from '../hash.ts'
import { importPackage } from '../importPackage/importPackage.ts'
import { publishedStudy } from '../publishedStudy.ts'
import { answer, bytesRoute, LOG_BYTES, type Route, route } from '../route.ts'
import { zipLimits } from '../zipLimits.ts'

const packageQuerySchema = z.strictObject({
  licence: z.string().max(300).default('none'),
  author: z.string().trim().max(200).default(''),
  initials: z
    .enum(['true', 'false'])
    .default('false')
    .transform(word => word === 'true'),
})

export const packageRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/studies/:id/package',
    beside: true,
    summary: 'The study as a data package: a zip, made while it is sent',
    answers: 'a zip',
    query: packageQuerySchema,
    async run({ bench, params, query }) {
      const licence = licenceOf(query.licence)
      if (!licence.ok) return answer(licence)
      const found = await publishedStudy(bench.store, params.id ?? '')
      if (!found.ok) return answer(found, 404)
      const study = query.initials ? withInitials(found.value) : found.value
      const authors = query.author === '' ? [] : [query.author]
      return {
        status: 200,
        type: 'application/zip',
        fileName: `${slug(study.name, 'study')}.zip`,
        body: zipOf(packageFiles(study, { licence: licence.value, authors, sha256 }), study.madeAt),
      }
    },
  }),
  bytesRoute({
    method: 'POST',
    path: '/api/packages',
    beside: true,
    summary: 'Takes the zip of a data package in; what is there already, by its hashes, is not taken twice',
    answers: 'ImportedPackage',
    query: z.strictObject({ name: z.string().min(1).max(255).default('package.zip') }),
    bytes: LOG_BYTES,
    async run({ bench, query, body }) {
      const opened = await openZip(zipInMemory(query.name, body), zipLimits())
      return answer(opened.ok ? await importPackage(bench.store, opened.value, sha256) : opened)
    },
  }),
]
