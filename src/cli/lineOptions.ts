import { InvalidArgumentError } from 'commander'

/** `192.168.4.1:3333`, `[::1]:3333`, `scale.local:3333`. */
export function hostAndPort(word: string): { host: string; port: number } {
  const found = /^(?:\[([^\]]+)\]|([^:[\]]+)):(\d{1,5})$/.exec(word.trim())
  const port = Number(found?.[3])
  const host = found?.[1] ?? found?.[2]
  if (host === undefined || !(port >= 1 && port <= 65_535))
    throw new InvalidArgumentError('It must be HOST:PORT, as in 192.168.4.1:3333 or scale.local:3333.')
  return { host, port }
}

/** Seconds, 0 or more, up to a most. */
export function secondsUpTo(most: number): (word: string) => number {
  return word => {
    const value = Number(word)
    if (word.trim() === '' || !(value >= 0 && value <= most))
      throw new InvalidArgumentError(`It must be a number of seconds from 0 to ${most}.`)
    return value
  }
}
