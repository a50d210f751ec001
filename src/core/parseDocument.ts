import type { z } from 'zod'
import { isNestedTooDeep } from './nestedJson.ts'
import { faultText, fine, type Outcome, wrong } from './problem.ts'

/**
 * JSON text checked against a schema. `where` is the file's name and `schemaFile` the shipped schema that describes it;
 * each fault is told with its field and what stands there. `placeOf` names the field in words of the document's own.
 */
export function parseDocument<S extends z.ZodType>(
  text: string,
  schema: S,
  {
    where,
    schemaFile,
    placeOf = path => path.join('.'),
  }: { where: string; schemaFile: string; placeOf?: (path: readonly string[]) => string },
): Outcome<z.infer<S>> {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    return wrong({
      where,
      what: `this is not JSON (${faultText(error)}).`,
      cure: `Mend the place named, or write the file anew; schemas/${schemaFile} describes it.`,
    })
  }
  if (isNestedTooDeep(text))
    return wrong({
      where,
      what: 'it nests values in values without end.',
      cure: `Write the file anew; schemas/${schemaFile} describes it.`,
    })
  const parsed = schema.safeParse(value)
  if (parsed.success) return fine(parsed.data)
  return wrong(
    ...parsed.error.issues.slice(0, 20).map(issue => ({
      where: [where, placeOf(issue.path.map(String))].filter(Boolean).join(', '),
      what: `${shown(value, issue.path)}: ${issue.message}.`,
      cure: `schemas/${schemaFile} describes every field.`,
    })),
  )
}

function shown(value: unknown, path: readonly PropertyKey[]): string {
  let at = value
  for (const key of path) at = (at as Record<PropertyKey, unknown> | null | undefined)?.[key]
  return at === undefined ? 'nothing stands here' : `there is ${JSON.stringify(at)?.slice(0, 60)}`
}
