// `npm run reference`: writes docs/reference/*.md from the public functions of `tenterhook/core` and
// `tenterhook/logs`: their comments, their declarations, and the examples of `test/examples`, which are
// compiled and run as tests.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import ts from 'typescript'
import { root } from './prepare.mjs'

const ROOMS = {
  core: 'The engine: numbers in, numbers out. Forces in N, times in s, lengths in mm, masses in kg.',
  logs: 'A log of any shape → a recording; a recording → tables. Bytes in, bytes and text out: opening files is yours.',
}

const sourceOf = file => ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true)

/** The names of an index in their order, each with the file that it comes from. */
function publicNames(index) {
  return sourceOf(index).statements.flatMap(statement =>
    ts.isExportDeclaration(statement) && statement.exportClause && ts.isNamedExports(statement.exportClause)
      ? statement.exportClause.elements.map(({ name }) => ({
          name: name.text,
          file: resolve(dirname(index), statement.moduleSpecifier.text),
        }))
      : [],
  )
}

/** Where a name is declared: in this file, or in the one that it hands on from. */
function declarationOf(name, file) {
  const source = sourceOf(file)
  for (const node of source.statements) {
    if (
      ts.isVariableStatement(node) &&
      node.declarationList.declarations.some(d => d.name.getText(source) === name)
    )
      return { node, source }
    if (node.name?.text === name && !ts.isExportDeclaration(node)) return { node, source }
    if (ts.isExportDeclaration(node) && node.exportClause && ts.isNamedExports(node.exportClause)) {
      const handed = node.exportClause.elements.some(element => element.name.text === name)
      if (handed && node.moduleSpecifier)
        return declarationOf(name, resolve(dirname(file), node.moduleSpecifier.text))
    }
  }
  throw new Error(`${relative(root, file)} does not declare ${name}`)
}

/**
 * A declaration without what it does: a function up to its body, a value up to its type, a type as it stands.
 */
function declared({ node, source }) {
  const text = (from, to) => source.text.slice(from, to).trim()
  const start = node.getStart(source)
  if (ts.isFunctionDeclaration(node) && node.body) return text(start, node.body.getStart(source))
  if (ts.isVariableStatement(node)) {
    const [{ initializer, type }] = node.declarationList.declarations
    if (initializer && (ts.isArrowFunction(initializer) || ts.isFunctionExpression(initializer)))
      return text(start, initializer.body.getStart(source)).replace(/\s*=>$/, '')
    return initializer && (type || initializer.getText(source).length > 120)
      ? text(start, initializer.getStart(source)).replace(/\s*=$/, '')
      : text(start, node.end)
  }
  return text(start, node.end)
}

/** The comment over a declaration, as Markdown. */
function commentOf({ node, source }) {
  const comments = ts.getLeadingCommentRanges(source.text, node.getFullStart()) ?? []
  const last = comments
    .map(({ pos, end }) => source.text.slice(pos, end))
    .findLast(text => text.startsWith('/**'))
  return (last ?? '')
    .replace(/^\/\*\*\s?|\s*\*\/$/g, '')
    .replace(/^\s*\* ?/gm, '')
    .replace(/\{@link (\w+)\}/g, '`$1`')
    .replace(/^@throws /gm, '\nThrows ')
    .trim()
}

/** The bodies of the tests of a file, by their names. */
function examplesOf(file) {
  const source = sourceOf(file)
  const examples = new Map()
  for (const node of source.statements) {
    if (!ts.isExpressionStatement(node) || !ts.isCallExpression(node.expression)) continue
    const [name, run] = node.expression.arguments
    if (node.expression.expression.getText(source) !== 'test' || !run) continue
    const body = run.body.getFullText(source).trim().slice(1, -1)
    examples.set(name.text, body.replace(/^\n+|\s+$/g, '').replace(/^ {2}/gm, ''))
  }
  return examples
}

export function referencePage(room) {
  const names = publicNames(join(root, 'src', room, 'index.ts'))
  const examples = examplesOf(join(root, 'test', 'examples', `${room}.test.ts`))
  const sections = names.map(({ name, file }) => {
    const found = declarationOf(name, file)
    const comment = commentOf(found)
    const example = examples.get(name)
    const where = relative(root, found.source.fileName).replaceAll('\\', '/')
    return [
      `## ${name}`,
      '',
      '```ts',
      declared(found),
      '```',
      ...(comment ? ['', comment] : []),
      ...(example ? ['', 'Example, compiled and run by a test:', '', '```ts', example, '```'] : []),
      '',
      `[${where}](../../${where})`,
    ].join('\n')
  })
  return `# tenterhook/${room}

${ROOMS[room]} Made by \`npm run reference\` from the code; do not write here.

${sections.join('\n\n')}
`
}

export const rooms = Object.keys(ROOMS)
export { examplesOf, publicNames }

if (process.argv[1] && resolve(process.argv[1]) === join(root, 'scripts', 'reference.mjs')) {
  const folder = join(root, 'docs', 'reference')
  if (!existsSync(folder)) mkdirSync(folder, { recursive: true })
  for (const room of rooms) writeFileSync(join(folder, `${room}.md`), referencePage(room))
  console.log(`${rooms.length} pages written to docs/reference/`)
}
