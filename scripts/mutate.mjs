// Small changes of a program that a test should notice: where they can be made, and which of them to try.
import { createHash } from 'node:crypto'
import ts from 'typescript'

const SWAPS = {
  [ts.SyntaxKind.PlusToken]: '-',
  [ts.SyntaxKind.MinusToken]: '+',
  [ts.SyntaxKind.AsteriskToken]: '/',
  [ts.SyntaxKind.SlashToken]: '*',
  [ts.SyntaxKind.LessThanToken]: '<=',
  [ts.SyntaxKind.LessThanEqualsToken]: '<',
  [ts.SyntaxKind.GreaterThanToken]: '>=',
  [ts.SyntaxKind.GreaterThanEqualsToken]: '>',
  [ts.SyntaxKind.EqualsEqualsEqualsToken]: '!==',
  [ts.SyntaxKind.ExclamationEqualsEqualsToken]: '===',
  [ts.SyntaxKind.AmpersandAmpersandToken]: '||',
  [ts.SyntaxKind.BarBarToken]: '&&',
  [ts.SyntaxKind.PlusEqualsToken]: '-=',
  [ts.SyntaxKind.MinusEqualsToken]: '+=',
}
const ARITHMETIC = new Set(['-', '+', '/', '*', '-=', '+='])
const CALLS = {
  'Math.max': 'Math.min',
  'Math.min': 'Math.max',
  'Math.floor': 'Math.ceil',
  'Math.ceil': 'Math.floor',
}
/** Calls on a list that can be left out, so that the list goes on as it was. */
const PASSES_ON = new Set(['filter', 'sort', 'reverse', 'toSorted', 'toReversed'])

/**
 * Every change that can be made in the text of one file, in the order of the text: `{ file, kind, start, end,
 * now, line, was }`, where `now` replaces what stands from `start` to `end`. Types, imports, texts and what
 * is thrown are left alone.
 */
export function mutantsOf(file, text) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true)
  const mutants = []
  const alike = new Map()
  const add = (kind, from, now, to = from) => {
    const start = from.getStart(source)
    const end = to.getEnd()
    const line = source.getLineAndCharacterOfPosition(start).line + 1
    const was = text.slice(start, end)
    const change = `${kind} ${was} → ${now}`
    alike.set(change, (alike.get(change) ?? 0) + 1)
    mutants.push({ file, kind, start, end, now, line, was, nth: alike.get(change) })
  }
  const isText = node =>
    ts.isStringLiteralLike(node) ||
    ts.isTemplateExpression(node) ||
    (ts.isParenthesizedExpression(node) && isText(node.expression)) ||
    (ts.isBinaryExpression(node) && (isText(node.left) || isText(node.right)))

  const visit = node => {
    if (ts.isTypeNode(node) || ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node)) return
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node) || ts.isThrowStatement(node)) return
    if (ts.isBinaryExpression(node)) {
      const now = SWAPS[node.operatorToken.kind]
      if (now && !(ARITHMETIC.has(now) && isText(node)))
        add(
          ARITHMETIC.has(now) ? 'arithmetic' : now === '&&' || now === '||' ? 'logic' : 'comparison',
          node.operatorToken,
          now,
        )
    } else if (ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.ExclamationToken)
      add('logic', node, `(${node.operand.getText(source)})`)
    else if (node.kind === ts.SyntaxKind.TrueKeyword) add('constant', node, 'false')
    else if (node.kind === ts.SyntaxKind.FalseKeyword) add('constant', node, 'true')
    else if (ts.isNumericLiteral(node)) add('constant', node, changedNumber(node.text))
    else if (ts.isIfStatement(node)) add('step', node.expression, 'false')
    else if (ts.isConditionalExpression(node))
      add('step', node.condition, `!(${node.condition.getText(source)})`)
    else if (ts.isExpressionStatement(node) && !isDirective(node)) add('step', node, ';')
    else if (ts.isCallExpression(node)) {
      const called = node.expression.getText(source)
      if (CALLS[called]) add('call', node.expression, CALLS[called])
      else if (ts.isPropertyAccessExpression(node.expression) && PASSES_ON.has(node.expression.name.text))
        add('step', node, node.expression.expression.getText(source))
    }
    ts.forEachChild(node, visit)
  }
  visit(source)
  return mutants
}

const isDirective = node => ts.isStringLiteral(node.expression)

/** Ten times a number; one for nought: a test that still passes does not hold the constant. */
function changedNumber(text) {
  const value = Number(text)
  return value === 0 ? '1' : String(value * 10)
}

/**
 * The name of a change: what becomes what, and which of those alike in the file it is. Comments and lines say
 * nothing.
 */
export const idOf = ({ file, kind, was, now, nth }) => `${file}:${kind}:${hashOf(`${was} → ${now}`)}:${nth}`

/** The text of a file without its comments and spaces: a result holds as long as this does. */
export function codeOf(file, text) {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true)
  const words = []
  const visit = node => {
    // A leaf is a word; comments of the documentation kind hang on nodes and are none.
    if (node.kind >= ts.SyntaxKind.FirstJSDocNode && node.kind <= ts.SyntaxKind.LastJSDocNode) return
    const children = node.getChildren(source)
    if (children.length === 0) words.push(node.getText(source))
    else children.forEach(visit)
  }
  visit(source)
  return words.join(' ')
}

/**
 * `count` of the changes, drawn by a seed and spread over the folders: of a folder with four times as many
 * places twice as many are taken. A longer sample of the same seed begins with the shorter one, so that a run
 * can be stopped and gone on with.
 */
export function sampleOf(mutants, seed, count) {
  const folders = new Map()
  for (const mutant of mutants) {
    const folder = folderOf(mutant.file)
    folders.set(folder, [...(folders.get(folder) ?? []), mutant])
  }
  const drawn = [...folders.values()].flatMap(list =>
    list
      .map(mutant => ({ mutant, by: hashOf(`${seed} ${idOf(mutant)}`) }))
      .sort((a, b) => (a.by < b.by ? -1 : 1))
      .map(({ mutant, by }, i) => ({ mutant, by, turn: (i + 0.5) / Math.sqrt(list.length) })),
  )
  return drawn
    .sort((a, b) => a.turn - b.turn || (a.by < b.by ? -1 : 1))
    .slice(0, count)
    .map(({ mutant }) => mutant)
}

export const folderOf = file => file.slice(0, file.lastIndexOf('/'))

export const hashOf = text => createHash('sha256').update(text).digest('hex').slice(0, 16)
