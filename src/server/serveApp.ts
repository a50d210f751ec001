import { existsSync } from 'node:fs'
import { join } from 'node:path'
import fastifyStatic from '@fastify/static'
import type { FastifyInstance } from 'fastify'
import { PREVIEW_FRAME } from '../publish/report/previewFrame.ts'
import { PREVIEW_HEADERS } from './headers.ts'

const NO_APP = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Tenterhook</title>
<link rel="stylesheet" href="/api/docs.css"></head><body><main><h1>The app is not built here</h1>
<p>The server runs, and answers what <a href="/api/docs">its description</a> says.</p></main></body></html>
`

/** The built app: its files, and its one page for every address that is no file, since the app finds its own way. */
export async function serveApp(app: FastifyInstance, webFolder: string | null): Promise<void> {
  if (webFolder === null || !existsSync(join(webFolder, 'index.html'))) {
    app.get('/', (_request, reply) => reply.type('text/html; charset=utf-8').send(NO_APP))
    return
  }
  await app.register(fastifyStatic, {
    root: webFolder,
    wildcard: false,
    index: false,
    dotfiles: 'deny',
    cacheControl: false,
    setHeaders(response, path) {
      // Built files carry a hash of their content in their name.
      const lasting = /[/\\]assets[/\\]/.test(path)
      response.setHeader('cache-control', lasting ? 'public, max-age=31536000, immutable' : 'no-cache')
    },
  })
  app.get('/', (_request, reply) => reply.sendFile('index.html'))
  app.get('/preview', (_request, reply) =>
    reply.headers(PREVIEW_HEADERS).type('text/html; charset=utf-8').send(PREVIEW_FRAME),
  )
  app.get('/*', (request, reply) => {
    const isPage = request.headers.accept?.includes('text/html') === true && !request.url.startsWith('/api/')
    return isPage ? reply.sendFile('index.html') : reply.callNotFound()
  })
}
