import { Readable } from 'node:stream'

/** Does the work while these bytes stand on standard input. */
export async function withInput<T>(bytes: Uint8Array, work: () => Promise<T>): Promise<T> {
  const own = Object.getOwnPropertyDescriptor(process, 'stdin')!
  Object.defineProperty(process, 'stdin', { value: Readable.from([bytes]), configurable: true })
  try {
    return await work()
  } finally {
    Object.defineProperty(process, 'stdin', own)
  }
}
