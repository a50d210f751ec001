import type { Saying } from './equivalent.ts'
import { counted, countWord } from './plural.ts'

/** “about nine 1-litre milk cartons”; `null` where there is nothing fair to say (`Saying.why` tells why). */
export function equivalentWords(saying: Saying): string | null {
  switch (saying.kind) {
    case 'about':
      return `about ${counted(saying.count, saying.of)}`
    case 'between':
      return `between ${countWord(saying.from)} and ${counted(saying.to, saying.of)}`
    case 'less-than-one':
      return `less than ${counted(1, saying.of)}`
    case 'at-least':
      return saying.held
        ? `carried ${counted(saying.count, saying.of)} and did not break`
        : `at least ${counted(saying.count, saying.of)}`
    case 'none':
      return null
  }
}
