import { spawnSync } from 'node:child_process'
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/** A disk that a test fills and frees again. */
export interface SmallDisk {
  readonly folder: string
  /** Turns a command line into one whose files lie under this disk's rule. */
  command(words: readonly string[]): readonly string[]
  fill(pid: number): Promise<void>
  free(pid: number): Promise<void>
  remove(): Promise<void>
}

/**
 * A disk of its own, in memory (tmpfs). Needs the right to mount, which only the system's administrator has.
 */
export async function tmpfsDisk(): Promise<SmallDisk | null> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-disk-'))
  const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=4m', 'tmpfs', folder], {
    stdio: 'ignore',
  })
  if (status !== 0) {
    await rm(folder, { recursive: true })
    return null
  }
  const filler = join(folder, 'filler')
  return {
    folder,
    command: words => words,
    async fill() {
      // Byte by byte at the end: not one more page is to be had.
      for (const bytes of [65_536, 4_096])
        for (let full = false; !full; )
          full = await writeFile(filler, new Uint8Array(bytes), { flag: 'a' }).then(
            () => false,
            () => true,
          )
    },
    free: () => rm(filler),
    async remove() {
      spawnSync('umount', ['-l', folder])
      await rm(folder, { recursive: true, force: true })
    },
  }
}

/**
 * An ordinary folder under the system's limit for the size of a file (setrlimit(2), RLIMIT_FSIZE), which is
 * set to nearly nothing and lifted again while the program runs (prlimit(1)). It stands in for a full disk
 * where nobody may mount one.
 */
export async function limitedDisk(): Promise<SmallDisk> {
  const folder = await mkdtemp(join(tmpdir(), 'tenterhook-limit-'))
  await mkdir(folder, { recursive: true })
  const limit = (pid: number, bytes: string): void => {
    const { status, stderr } = spawnSync('prlimit', ['--pid', String(pid), `--fsize=${bytes}:`])
    if (status !== 0) throw new Error(`prlimit: ${stderr}`)
  }
  return {
    folder,
    // The signal that goes with the limit would end the program.
    command: words => ['bash', '-c', `trap '' XFSZ; exec "$0" "$@"`, ...words],
    fill: async pid => limit(pid, '4096'),
    free: async pid => limit(pid, 'unlimited'),
    remove: () => rm(folder, { recursive: true, force: true }),
  }
}

/** TENTERHOOK_NO_MOUNT=1 forces the other way where one may, so that both are tried. */
export const mayMount =
  process.env.TENTERHOOK_NO_MOUNT !== '1' &&
  (await tmpfsDisk().then(async disk => {
    await disk?.remove()
    return disk !== null
  }))
