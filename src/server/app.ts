import { randomBytes } from 'node:crypto'
import { Readable } from 'node:stream'
import websocket from '@fastify/websocket'
import fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { isNestedTooDeep } from '../core/nestedJson.ts'
import type { Problem } from '../core/problem.ts'
import { StoreFault } from '../store/index.ts'
import { API_PAGE_STYLE, apiPage } from './apiPage.ts'
import { runRoute } from './beside/beside.ts'
import { refusal } from './guard.ts'
import { SAFE_HEADERS } from './headers.ts'
import { openApi } from './openApi.ts'
import { pageSocket } from './pageSocket.ts'
import { type Answer, type Bench, JSON_BYTES, type Route, refused } from './route.ts'
import { serveApp } from './serveApp.ts'

export interface AppOptions {
  readonly bench: Bench
  readonly routes: readonly Route[]
  /** Names and ports that this server answers to; asked at each request, since the port is known late. */
  readonly hosts: () => ReadonlySet<string>
  /** Folder of the built app; `null` where there is none. */
  readonly webFolder: string | null
  /** Whether a request may pass, beyond where it comes from. */
  readonly letsIn?: (request: FastifyRequest) => boolean
  /** Told of faults of ours, with their trace; the caller of the server gets a number only. */
  readonly onFault: (id: string, error: unknown) => void
}

/** Bytes of a message over a socket: a viewer has nothing to say, and a page hands on a port's bytes in small pieces. */
const MESSAGE_BYTES = 1024

/** The HTTP server over a table of routes; what is not in its table cannot be asked. */
export async function makeApp(options: AppOptions): Promise<FastifyInstance> {
  const { bench, routes, hosts, onFault } = options
  const app = fastify({
    bodyLimit: JSON_BYTES,
    routerOptions: { maxParamLength: 200 },
    requestTimeout: 120_000,
    keepAliveTimeout: 10_000,
    exposeHeadRoutes: false,
    return503OnClosing: true,
    forceCloseConnections: true,
  })
  // Bodies are JSON or the bytes of a file; a form that another site could send is neither.
  app.removeAllContentTypeParsers()
  const parse = app.getDefaultJsonParser('error', 'error')
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (request, body, parsed) => {
    if (!isNestedTooDeep(String(body))) return parse(request, String(body), parsed)
    const code = 'NESTED_TOO_DEEP'
    parsed(Object.assign(new Error(MEANINGS[code]), { statusCode: 400, code }))
  })
  app.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, parsed) =>
    parsed(null, body),
  )

  app.addHook('onRequest', async (request, reply) => {
    reply.headers(SAFE_HEADERS)
    const isPage = request.method === 'GET' && !isApi(request.url)
    const isSocket = request.headers.upgrade !== undefined
    const no = refusal(request.headers, hosts(), { isPage, isSocket })
    if (no) return reply.code(no.status).send({ problems: [refusedProblem(no.what)] })
    if (options.letsIn && !options.letsIn(request))
      return reply.code(401).send({ problems: [refusedProblem('this screen was not let in')] })
  })
  app.addHook('onSend', async (request, reply) => {
    // A socket that was asked for and not given is no longer the HTTP server's to close.
    if (request.headers.upgrade !== undefined)
      reply.raw.once('finish', () => request.raw.socket.destroySoon())
  })
  app.setErrorHandler((error, _request, reply) => sendError(error, reply, onFault))
  app.setNotFoundHandler((_request, reply) =>
    reply
      .code(404)
      .send({ problems: [{ ...refusedProblem('there is nothing here'), cure: 'See /api/docs.' }] }),
  )

  await app.register(websocket, { options: { maxPayload: MESSAGE_BYTES, perMessageDeflate: false } })
  app.get('/api/live', { websocket: true }, socket => {
    const leave = bench.desk.hub.join(socket)
    if (!leave) return socket.close(1013, 'too many viewers')
    socket.on('close', leave)
    socket.on('error', leave)
  })
  const { pagePort } = bench
  if (pagePort) pageSocket(app, pagePort)
  for (const route of routes) addRoute(app, route, bench)
  const description = openApi(routes)
  app.get('/api/openapi.json', async () => description)
  app.get('/api/docs', (_request, reply) => reply.type('text/html; charset=utf-8').send(apiPage(routes)))
  app.get('/api/docs.css', (_request, reply) => reply.type('text/css; charset=utf-8').send(API_PAGE_STYLE))
  await serveApp(app, options.webFolder)
  return app
}

const isApi = (url: string): boolean => url === '/api' || url.startsWith('/api/')

function addRoute(app: FastifyInstance, route: Route, bench: Bench): void {
  app.route({
    method: route.method,
    url: route.path,
    ...(route.bytes === null ? {} : { bodyLimit: route.bytes }),
    async handler(request, reply) {
      const faults: Problem[] = []
      const query = route.query ? checked(route.query, request.query, 'query', faults) : {}
      const body =
        route.bytes !== null
          ? bytesOf(request.body, faults)
          : route.body
            ? checked(route.body, request.body, 'body', faults)
            : null
      const answer =
        faults.length > 0
          ? refused(422, faults)
          : await runRoute(bench, route, {
              params: request.params as Record<string, string>,
              query,
              body,
            })
      return send(reply, answer)
    },
  })
}

function checked(schema: z.ZodType, value: unknown, where: string, faults: Problem[]): unknown {
  const parsed = schema.safeParse(value)
  if (parsed.success) return parsed.data
  faults.push(
    ...parsed.error.issues.slice(0, 20).map(issue => ({
      where: [where, ...issue.path].join('.'),
      what: `${issue.message}.`,
      cure: 'See /api/docs for what may be sent.',
    })),
  )
  return null
}

function bytesOf(body: unknown, faults: Problem[]): Uint8Array {
  if (body instanceof Uint8Array) return body
  faults.push({
    where: 'body',
    what: 'it must be the bytes of a file.',
    cure: 'Send it as application/octet-stream.',
  })
  return new Uint8Array()
}

function send(reply: FastifyReply, { status, body, type, fileName, conflict }: Answer): FastifyReply {
  reply.code(status).header('cache-control', 'no-store')
  if (conflict) reply.header('x-conflict', 'changed')
  // A file is never shown as a page of ours, whatever is in it.
  if (fileName !== undefined)
    reply.header('content-disposition', `attachment; filename*=UTF-8''${encodeURIComponent(fileName)}`)
  if (type === undefined) return reply.type('application/json; charset=utf-8').send(JSON.stringify(body))
  reply.type(type)
  if (body instanceof Uint8Array)
    return reply.send(Buffer.from(body.buffer, body.byteOffset, body.byteLength))
  return reply.send(Readable.from(body as AsyncIterable<Uint8Array> | Iterable<string>))
}

function sendError(error: unknown, reply: FastifyReply, onFault: AppOptions['onFault']): FastifyReply {
  if (error instanceof StoreFault) return reply.code(503).send({ problems: [error.problem] })
  const { statusCode, code } = error as { statusCode?: number; code?: string }
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500)
    return reply
      .code(statusCode)
      .send({ problems: [refusedProblem(MEANINGS[code ?? ''] ?? 'it could not be read')] })
  const id = randomBytes(4).toString('hex')
  onFault(id, error)
  return reply.code(500).send({
    problems: [
      {
        where: 'the server',
        what: `it met a fault of its own, number ${id}.`,
        cure: 'Try again; what stands beside that number in the terminal helps to mend it.',
      },
    ],
  })
}

const MEANINGS: Readonly<Record<string, string>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'it is larger than may be sent here',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'its content type is neither JSON nor the bytes of a file',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'its body is empty',
  NESTED_TOO_DEEP: 'its body nests values in values without end',
}

const refusedProblem = (what: string): Problem => ({
  where: 'request',
  what: `${what}.`,
  cure: 'Open the address that the program printed.',
})
