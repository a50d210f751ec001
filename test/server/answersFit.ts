import { Ajv2020 } from 'ajv/dist/2020.js'
import { openApi } from '../../src/server/openApi.ts'
import { allRoutes } from '../../src/server/table.ts'

interface Described {
  readonly paths: Record<
    string,
    Record<string, { responses: { 200: { content?: { 'application/json'?: { schema: object } } } } }>
  >
  readonly components: { readonly schemas: Record<string, object> }
}

const described = openApi(allRoutes()) as Described
const ajv = new Ajv2020({
  strict: false,
  allErrors: true,
  formats: { 'date-time': (text: string) => !Number.isNaN(Date.parse(text)) },
})
ajv.addSchema({ $id: 'api', components: described.components })

const known = Object.entries(described.paths).flatMap(([path, methods]) =>
  Object.entries(methods).map(([method, { responses }]) => {
    const schema = responses[200].content?.['application/json']?.schema
    return {
      method: method.toUpperCase(),
      path: new RegExp(`^${path.replace(/\{\w+\}/g, '[^/]+')}$`),
      fits: schema ? ajv.compile(JSON.parse(JSON.stringify(schema).replaceAll('"#/', '"api#/'))) : null,
    }
  }),
)

/** What is wrong with an answer by the server's own description of itself; `null` where nothing is. */
export function misfit(method: string, address: string, text: string): string | null {
  const path = address.replace(/\?.*/, '')
  const route = known.find(one => one.method === method && one.path.test(path))
  if (!route?.fits || route.fits(JSON.parse(text))) return null
  return `${method} ${path}: ${ajv.errorsText(route.fits.errors)}`
}
