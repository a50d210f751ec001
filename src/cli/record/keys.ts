import type { ReadStream } from 'node:tty'

const CTRL_C = '\u0003'
const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const

export interface Keys {
  /** Whether single keys are read; signals always are. */
  readonly areRead: boolean
  /** Resolves when the operator first asks for the end: Ctrl-C, q, or a signal to end. */
  readonly finish: Promise<'finish'>
  /** Resolves when it is asked for again. */
  readonly leave: Promise<'leave'>
  onZero(act: () => void): void
  /** Gives keys and signals back. */
  end(): void
}

/** Keys and signals that end a recording, and the key for a new zero. A terminal that is read sends Ctrl-C as a key. */
export function waitForKeys(
  host: Pick<NodeJS.Process, 'on' | 'off'> & { readonly stdin: NodeJS.ReadStream | ReadStream },
  { withTerminal }: { readonly withTerminal: boolean },
): Keys {
  let zero: () => void = () => {}
  let asked = 0
  let finishNow: (word: 'finish') => void = () => {}
  let leaveNow: (word: 'leave') => void = () => {}
  const finish = new Promise<'finish'>(resolve => {
    finishNow = resolve
  })
  const leave = new Promise<'leave'>(resolve => {
    leaveNow = resolve
  })
  const ask = (): void => {
    asked++
    if (asked === 1) finishNow('finish')
    else leaveNow('leave')
  }
  const takeKeys = (chunk: Buffer): void => {
    for (const key of chunk.toString('latin1')) {
      if (key === CTRL_C || key === 'q') ask()
      else if (key === 'z') zero()
    }
  }
  const { stdin } = host
  const areRead = withTerminal && stdin.isTTY === true
  for (const signal of SIGNALS) host.on(signal, ask)
  if (areRead) {
    stdin.setRawMode(true)
    stdin.on('data', takeKeys)
    stdin.resume()
  }
  return {
    areRead,
    finish,
    leave,
    onZero(act) {
      zero = act
    },
    end() {
      for (const signal of SIGNALS) host.off(signal, ask)
      if (!areRead) return
      stdin.off('data', takeKeys)
      stdin.setRawMode(false)
      stdin.pause()
    },
  }
}
