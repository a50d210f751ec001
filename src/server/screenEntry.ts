import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { ScreenTokens } from './screens.ts'

const COOKIE = 'tenterhook_screen'

const page = (
  title: string,
  text: string,
): string => `<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1"><title>${title}</title></head>
<body><h1>${title}</h1><p>${text}</p></body></html>
`

/** The door of a second screen: a code is exchanged for a pass that the browser keeps. */
export function screenEntry(app: FastifyInstance, screens: ScreenTokens): void {
  app.get('/join/:code', (request, reply) => {
    const pass = screens.redeem((request.params as { code: string }).code)
    reply.header('cache-control', 'no-store')
    if (pass === null)
      return reply
        .code(403)
        .type('text/html; charset=utf-8')
        .send(page('This code is spent', 'Each code lets one screen in. Ask for a new one at the bench.'))
    return reply
      .header('set-cookie', `${COOKIE}=${pass}; HttpOnly; SameSite=Lax; Path=/; Max-Age=43200`)
      .redirect('/screen', 303)
  })
}

/** Whether a request carries a pass, or is at the door. */
export const letsScreenIn = (request: FastifyRequest, screens: ScreenTokens): boolean =>
  request.url.startsWith('/join/') || screens.isLetIn(cookieOf(request.headers.cookie))

const cookieOf = (header = ''): string | undefined =>
  header
    .split(';')
    .map(pair => pair.trim())
    .find(pair => pair.startsWith(`${COOKIE}=`))
    ?.slice(COOKIE.length + 1)
