import type { ChildProcess } from 'node:child_process'

/** How long a child may take to go by itself once it has been killed. */
const GONE_MS = 5_000

/**
 * Ends a child process that was started `detached`, with all that it has started, and waits until it is gone.
 * Does nothing where it has ended already.
 */
export async function killed(child: ChildProcess | null): Promise<void> {
  if (child?.pid === undefined || child.exitCode !== null || child.signalCode !== null) return
  const gone = new Promise<void>(resolve => {
    child.once('close', () => resolve())
    setTimeout(resolve, GONE_MS).unref()
  })
  try {
    if (process.platform === 'win32') child.kill('SIGKILL')
    else process.kill(-child.pid, 'SIGKILL')
  } catch {
    child.kill('SIGKILL')
  }
  await gone
}
