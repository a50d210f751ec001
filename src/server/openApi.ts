import { z } from 'zod'
import { ENGINE_VERSION } from '../core/version.ts'
import { ANSWER_SCHEMAS, answerSchema } from './answerSchemas.ts'
import type { Route } from './route.ts'

const problems = {
  description: 'What was wrong, where, and the cure',
  content: {
    'application/json': {
      schema: {
        type: 'object',
        properties: {
          problems: {
            type: 'array',
            items: {
              type: 'object',
              properties: {
                where: { type: 'string' },
                what: { type: 'string' },
                cure: { type: 'string' },
                fields: { type: 'array', items: { type: 'string' } },
                code: { type: 'string' },
              },
              required: ['where', 'what', 'cure'],
            },
          },
        },
        required: ['problems'],
      },
    },
  },
}

/** The description of the server in OpenAPI 3.1, made from the table of its routes. */
export function openApi(routes: readonly Route[]): object {
  const paths: Record<string, Record<string, object>> = {}
  for (const route of routes) {
    const path = route.path.replace(/:([a-z]+)/gi, '{$1}')
    paths[path] ??= {}
    paths[path][route.method.toLowerCase()] = operation(route)
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Tenterhook',
      version: ENGINE_VERSION,
      description:
        'What the app asks of its server. Times in s, forces in N. The live stream is a WebSocket at /api/live: JSON messages, the first a snapshot. Types that an answer names are those of src/server/apiTypes.ts.',
    },
    paths,
    components: {
      schemas: Object.fromEntries(
        Object.entries(ANSWER_SCHEMAS).map(([name, schema]) => [
          name,
          z.toJSONSchema(schema, { io: 'output', unrepresentable: 'any' }),
        ]),
      ),
    },
  }
}

function operation({ method, path, summary, answers, onScreen, query, body, bytes }: Route): object {
  const inPath = [...path.matchAll(/:([a-z]+)/gi)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }))
  return {
    summary,
    operationId: `${method.toLowerCase()}${path.replace(/^\/api/, '').replace(/[/:-]+(\w)/g, (_, letter: string) => letter.toUpperCase())}`,
    ...(onScreen ? { description: 'Also answered to a second screen.' } : {}),
    parameters: [...inPath, ...(query ? inQuery(query) : [])],
    ...(body || bytes !== null
      ? {
          requestBody: {
            required: body?.safeParse(undefined).success !== true,
            content: content(body, bytes),
          },
        }
      : {}),
    responses: {
      200: answerOf(answers),
      422: problems,
      ...(path.includes(':') ? { 404: problems } : {}),
    },
  }
}

/** With a schema where what comes back is JSON that has one. */
function answerOf(answers: string): object {
  const schema = answerSchema(answers)
  return { description: answers, ...(schema ? { content: { 'application/json': { schema } } } : {}) }
}

const content = (body: z.ZodType | null, bytes: number | null): object =>
  body
    ? { 'application/json': { schema: z.toJSONSchema(body, { io: 'input' }) } }
    : { 'application/octet-stream': { schema: { type: 'string', format: 'binary', maxLength: bytes } } }

function inQuery(query: z.ZodType): object[] {
  const { properties = {}, required = [] } = z.toJSONSchema(query, { io: 'input', unrepresentable: 'any' })
  return Object.entries(properties).map(([name, schema]) => ({
    name,
    in: 'query',
    required: required.includes(name),
    schema,
  }))
}
