/** No document of ours, and no log, nests so deep; what walks a value calls itself once a level. */
const DEEPEST = 200

/** Whether JSON text nests deeper than anything here can walk through without running out of stack. */
export function isNestedTooDeep(text: string): boolean {
  let depth = 0
  let inString = false
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if (inString) {
      if (code === 92) i++
      else if (code === 34) inString = false
    } else if (code === 34) inString = true
    else if (code === 91 || code === 123) {
      depth++
      if (depth > DEEPEST) return true
    } else if (code === 93 || code === 125) depth--
  }
  return false
}
