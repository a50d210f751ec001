import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync } from 'node:fs'
import { mkdtemp, open, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface PtyPair {
  /** The end that is recorded from. */
  readonly port: string
  /** Writes as the device would. */
  say(text: string): Promise<void>
  /** Pulls the cable. */
  unplug(): Promise<void>
  /** Puts it back. */
  plugIn(): Promise<void>
  end(): Promise<void>
}

/** Two pseudo-terminals tied together by socat: a serial line without hardware. */
export async function ptyPair(): Promise<PtyPair> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-pty-'))
  const port = join(folder, 'port')
  const device = join(folder, 'device')
  let socat: ChildProcess | null = null
  let handle: Awaited<ReturnType<typeof open>> | null = null

  const plugIn = async (): Promise<void> => {
    socat = spawn('socat', [`pty,raw,echo=0,link=${port}`, `pty,raw,echo=0,link=${device}`], {
      stdio: 'ignore',
    })
    while (!existsSync(port) || !existsSync(device)) await new Promise(resolve => setTimeout(resolve, 10))
    handle = await open(device, 'w')
  }
  const unplug = async (): Promise<void> => {
    await handle?.close()
    handle = null
    if (!socat) return
    socat.kill()
    await once(socat, 'exit')
    socat = null
  }
  await plugIn()
  return {
    port,
    async say(text) {
      await handle?.write(text)
    },
    unplug,
    plugIn,
    async end() {
      await unplug()
      await rm(folder, { recursive: true, force: true })
    },
  }
}
