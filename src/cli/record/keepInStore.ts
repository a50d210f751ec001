import { dirname, resolve } from 'node:path'
import type { Captured } from '../../capture/index.ts'
import type { Unsaved } from '../../server/desk/liveTypes.ts'
import { type Kept, safekeeping } from '../../server/desk/safekeeping.ts'
import { readHere, takeInHere } from '../../server/storeCaptured.ts'
import type { Store } from '../../store/index.ts'
import type { Io } from '../io.ts'
import { toldText } from '../tell.ts'

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const

interface KeepOptions {
  /** Folder to keep it in where the disk of the store takes no more. */
  readonly spare: string | null
  readonly io: Pick<Io, 'err' | 'errIsTerminal'>
}

/**
 * Puts a recording that has ended into the store. Where that refuses it waits, tries again and says so, whether the
 * recording is in memory or whole in its journal on a disk; only one that went to the spare folder is left there. It is
 * given up, or left in its journal, when told twice.
 */
export async function keepInStore(
  store: Store,
  captured: Captured,
  { spare, io }: KeepOptions,
): Promise<Pick<Kept, 'entry' | 'reading' | 'problems'>> {
  let stored: Kept | null = null
  let told = ''
  const tell = (unsaved: readonly Unsaved[]): void => {
    for (const { problem } of unsaved) {
      const text = toldText(problem)
      if (text !== told) io.err(`tenterhook: ${text}\n`)
      told = text
    }
  }
  const keeper = safekeeping({
    store,
    readSpecimen: readHere(store),
    takeIn: takeInHere(store),
    onStored: (_, kept) => {
      stored = kept
    },
    onChange: tell,
  })
  const kept = await keeper.take(captured)
  if (kept.entry !== null) return kept
  if (spare !== null && kept.keptIn === 'memory') {
    const moved = await keeper.moveTo(captured.id, spare)
    if (!moved.ok) io.err(`tenterhook: ${toldText(moved.problems[0]!)}\n`)
  }
  const { keeping } = captured
  const isSpare = (): boolean => spare !== null && keeping.heldBytes === 0 && lies(keeping.path, spare)
  if (stored === null && !isSpare()) {
    io.err(keeping.heldBytes > 0 ? WAITS : WAITS_IN_JOURNAL)
    const asked = askedTwice(io, () => keeping.heldBytes > 0)
    const folders = foldersTyped(io, folder =>
      keeper.moveTo(captured.id, folder).then(moved => {
        if (!moved.ok) io.err(`tenterhook: ${toldText(moved.problems[0]!)}\n`)
      }),
    )
    // Once all of it is on the disk there is room for the store too, as like as not.
    void keeping.onDisk.then(() => keeper.tryNow())
    await Promise.race([keeper.settled(), asked.twice])
    asked.end()
    folders.end()
  }
  const left = await keeper.stop()
  if (stored !== null) return stored
  for (const one of left) io.err(`tenterhook: ${leftText(one)}\n`)
  return { entry: null, reading: null, problems: [] }
}

const WAITS = `tenterhook: waiting for room, as samples are in memory alone. Press Ctrl-C twice to give them up.
`

const WAITS_IN_JOURNAL = `tenterhook: the recording is whole on the disk, in its journal; waiting until the store takes it. Press Ctrl-C twice to leave it there.
`

/** Whether a file lies in a folder. */
const lies = (path: string, folder: string): boolean => dirname(resolve(path)) === resolve(folder)

const leftText = ({ keptIn, path, heldBytes }: Unsaved): string =>
  keptIn === 'memory'
    ? `given up: the last ${heldBytes} bytes of the recording are lost. What was on the disk before stands in ${path}.`
    : `the recording is not in the store. It is whole on the disk, in ${path}; take it in with: tenterhook import "${path}"`

/** Signals to end: the first is answered with a warning, the second counts. */
function askedTwice(
  io: KeepOptions['io'],
  isInMemory: () => boolean,
): { readonly twice: Promise<void>; end(): void } {
  let asked = 0
  let tell: () => void = () => {}
  const twice = new Promise<void>(resolve => {
    tell = resolve
  })
  const ask = (): void => {
    if (++asked > 1) tell()
    else
      io.err(
        isInMemory()
          ? 'tenterhook: samples are in memory alone and would be lost. Ctrl-C once more gives them up.\n'
          : 'tenterhook: the recording is not in the store yet. Ctrl-C once more leaves it in its journal.\n',
      )
  }
  for (const signal of SIGNALS) process.on(signal, ask)
  return {
    twice,
    end() {
      for (const signal of SIGNALS) process.off(signal, ask)
    },
  }
}

/** At a terminal, another folder may be typed. */
function foldersTyped(io: KeepOptions['io'], take: (folder: string) => Promise<void>): { end(): void } {
  const { stdin } = process
  if (!stdin.isTTY || !io.errIsTerminal) return { end() {} }
  io.err('tenterhook: or type another folder for it, best on another disk, and press Enter.\n')
  const typed = (chunk: Buffer): void => {
    const folder = chunk.toString('utf8').trim()
    if (folder !== '') void take(folder)
  }
  stdin.on('data', typed)
  stdin.resume()
  return {
    end() {
      stdin.off('data', typed)
      stdin.pause()
    },
  }
}
