import { brokenTo } from './textWidth.ts'

/** As many whole clauses of a sentence as fit into the lines, an ellipsis for the others. */
export function clausesIn(
  sentence: string,
  lines: number,
  { width, size }: { width: number; size: number },
): string {
  const clauses = sentence.split('; ')
  while (clauses.length > 1 && brokenTo(whole(clauses, sentence), width, size).length > lines) clauses.pop()
  return whole(clauses, sentence)
}

const whole = (clauses: readonly string[], sentence: string): string => {
  const text = clauses.join('; ')
  return text === sentence ? text : `${text} …`
}
