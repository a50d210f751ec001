import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'

/** How long a code on the screen may be scanned. */
const CODE_MINUTES = 10
/** How long a phone stays let in. */
const STAY_HOURS = 12
const MOST_SCREENS = 16

/**
 * Who may look on from another device. A code is good for one scan within ten minutes; it is exchanged for a pass
 * that the browser keeps. Only hashes are held, so that a dump of memory lets nobody in.
 */
export interface ScreenTokens {
  newCode(): string
  /** The pass for a code, which is spent by this; `null` for a wrong, spent or old one. */
  redeem(code: string): string | null
  isLetIn(pass: string | undefined): boolean
}

export function screenTokens(nowMs: () => number = Date.now): ScreenTokens {
  let codes: { hash: Buffer; untilMs: number }[] = []
  let passes: { hash: Buffer; untilMs: number }[] = []
  const fresh = (list: readonly { hash: Buffer; untilMs: number }[]) =>
    list.filter(one => one.untilMs > nowMs())
  return {
    newCode() {
      const code = randomBytes(24).toString('base64url')
      codes = [...fresh(codes), { hash: hashOf(code), untilMs: nowMs() + CODE_MINUTES * 60_000 }].slice(
        -MOST_SCREENS,
      )
      return code
    },
    redeem(code) {
      codes = fresh(codes)
      const known = findIn(codes, code)
      if (!known) return null
      codes = codes.filter(one => one !== known)
      const pass = randomBytes(32).toString('base64url')
      passes = [...fresh(passes), { hash: hashOf(pass), untilMs: nowMs() + STAY_HOURS * 3_600_000 }].slice(
        -MOST_SCREENS,
      )
      return pass
    },
    isLetIn: pass => pass !== undefined && findIn(fresh(passes), pass) !== undefined,
  }
}

const hashOf = (secret: string): Buffer => createHash('sha256').update(secret).digest()

function findIn<T extends { hash: Buffer }>(list: readonly T[], secret: string): T | undefined {
  const hash = hashOf(secret)
  return list.find(one => timingSafeEqual(one.hash, hash))
}
