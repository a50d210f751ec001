import { readdirSync, readFileSync } from 'node:fs'
import { join, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

const root = fileURLToPath(new URL('../../', import.meta.url))

export interface Said {
  /** `file:line` */
  readonly where: string
  /** What a person may read, with `X` for what is filled in. */
  readonly text: string
}

/** Every text of several words that the source files of a folder may say. */
export function saidIn(folder: string): Said[] {
  const files = readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
  return files
    .filter(file => /\.tsx?$/.test(file))
    .sort()
    .flatMap(file => {
      const path = join(root, folder, file)
      return textsOf(readFileSync(path, 'utf8')).map(({ line, text }) => ({
        where: `${relative(root, path)}:${line}`,
        text,
      }))
    })
}

/** String and template literals of a source, joined where they are added up; those of imports and types are none. */
export function textsOf(source: string): { line: number; text: string }[] {
  const file = ts.createSourceFile('source.ts', source, ts.ScriptTarget.Latest, true, ts.ScriptKind.TS)
  const found: { line: number; text: string }[] = []
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isLiteralTypeNode(node)) return
    const text = textOf(node)
    if (text !== null && /\S\s+\S/.test(text))
      found.push({ line: file.getLineAndCharacterOfPosition(node.getStart()).line + 1, text })
    ts.forEachChild(node, visit)
  }
  visit(file)
  return found
}

function textOf(node: ts.Node): string | null {
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node)) return node.text
  if (ts.isTemplateExpression(node))
    return node.head.text + node.templateSpans.map(span => `X${span.literal.text}`).join('')
  return null
}
