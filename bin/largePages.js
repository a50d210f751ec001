const { readFileSync, statSync } = require('node:fs')

/**
 * A long log fills some hundred megabytes. In pages of 4 kB their first touch can take longer than reading the log,
 * above all on virtual machines; in pages of 2 MB it is next to nothing. Linux gives large pages to those who ask, Node
 * does not ask, but the C library does when told so before the process starts: so a command that reads a long log
 * is started once more. Other systems, and other settings of Linux, are left as they are.
 */
const MALLOC = {
  hugetlb: 1,
  // One heap for all threads: those of their own are too small for large pages.
  arena_max: 1,
  // From that heap comes all that is smaller than this, and it grows by so much: fewer pages of 4 kB at its edges.
  mmap_threshold: 32 * 1024 * 1024,
  top_pad: 16 * 1024 * 1024,
}
const TUNABLES = Object.entries(MALLOC)
  .map(([name, value]) => `glibc.malloc.${name}=${value}`)
  .join(':')
/**
 * The numbers lie outside the heap. What is left in it is so little that threads only wait for each other to collect it,
 * and that a heap which need not grow first is collected seldom.
 */
const FLAGS = ['--single-threaded-gc', '--min-semi-space-size=16', '--initial-heap-size=256']
const READS_LOGS = ['read', 'compare']
/** Starting once more takes about as long as reading this much. */
const LONG_LOG_BYTES = 48 * 1024 * 1024

/** Whether the command given is worth starting once more; false in the process that was. */
function wantsLargePages([command, ...args]) {
  if (process.env.GLIBC_TUNABLES === TUNABLES) {
    // Not for what this process starts.
    delete process.env.GLIBC_TUNABLES
    return false
  }
  return (
    process.platform === 'linux' &&
    process.env.GLIBC_TUNABLES === undefined &&
    READS_LOGS.includes(command) &&
    args.some(isLongFile) &&
    givenOnDemand()
  )
}

function isLongFile(path) {
  try {
    return statSync(path).size >= LONG_LOG_BYTES
  } catch {
    return false // Whoever opens it meets the same and tells it.
  }
}

function givenOnDemand() {
  try {
    return readFileSync('/sys/kernel/mm/transparent_hugepage/enabled', 'utf8').includes('[madvise]')
  } catch {
    return false
  }
}

/** Starts this command once more, with large pages, and ends as it ends. */
function startWithLargePages() {
  // Loaded only now: a short log pays for nothing of this.
  const { spawn } = require('node:child_process')
  const { constants } = require('node:os')
  const child = spawn(process.execPath, [...FLAGS, ...process.execArgv, ...process.argv.slice(1)], {
    stdio: 'inherit',
    env: { ...process.env, GLIBC_TUNABLES: TUNABLES },
  })
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP']
  for (const signal of signals) process.on(signal, () => child.kill(signal))
  child.on('error', error => {
    console.error(`tenterhook could not start: ${error.message}`)
    process.exitCode = 70
  })
  // At once: what was to be written is written by the command, and there is nothing here to be put away.
  child.on('exit', (code, signal) =>
    process.exit(code ?? 128 + (constants.signals[signal ?? 'SIGTERM'] ?? 0)),
  )
}

module.exports = { startWithLargePages, wantsLargePages }
