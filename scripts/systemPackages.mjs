// What the tests need beside Node: installed where that is allowed, else named and counted as a failure.
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

const onPath = name =>
  (process.env.PATH ?? '').split(delimiter).some(folder => folder !== '' && existsSync(join(folder, name)))

/** Places where a Chromium-family browser lives on each system, tried in order. */
const BROWSERS = [
  process.env.TENTERHOOK_BROWSER ?? '',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
]

/** The browser's path, or `null`. */
export const findBrowser = () => BROWSERS.find(path => path !== '' && existsSync(path)) ?? null

const NEEDED = [
  {
    what: 'a Chromium browser, for the tests in a real browser',
    debian: 'chromium',
    isThere: () => findBrowser() !== null,
    byHand: 'Install Chromium or Chrome, or set TENTERHOOK_BROWSER to its path.',
  },
  {
    what: 'socat, for the tests of serial lines over pseudo-terminals',
    debian: 'socat',
    isThere: () => onPath('socat'),
    byHand: 'Install socat.',
  },
  {
    what: 'ffmpeg, for the tests of clips',
    debian: 'ffmpeg',
    isThere: () => onPath('ffmpeg') || onPath('ffmpeg.exe'),
    byHand: 'Install ffmpeg.',
  },
]

/** What only the long suite and the check of the packed package after it need. */
const NEEDED_SLOW = [
  {
    what: 'udevadm, which lists the serial ports of a Linux system',
    debian: 'udev',
    isThere: () => process.platform !== 'linux' || onPath('udevadm'),
    byHand: 'Install udev.',
  },
  {
    what: 'a C compiler, for the emulated bench device',
    debian: 'gcc libc6-dev',
    isThere: () => onPath('gcc'),
    byHand: 'Install gcc.',
  },
  {
    what: 'the compiler for the 8-bit bench device',
    debian: 'gcc-avr avr-libc',
    isThere: () => onPath('avr-g++'),
    byHand: 'Install gcc-avr and avr-libc.',
  },
  {
    what: 'the emulator of the bench device',
    debian: 'libsimavr-dev',
    isThere: () => existsSync('/usr/include/simavr/sim_avr.h'),
    byHand: 'Install libsimavr with its headers.',
  },
]

/** Ends the process when something is missing and cannot be installed. */
export function needSystemPackages({ slow = false } = {}) {
  const needed = slow ? [...NEEDED, ...NEEDED_SLOW] : NEEDED
  const missing = needed.filter(need => !need.isThere())
  if (missing.length === 0) return
  const mayInstall = onPath('apt-get') && process.getuid?.() === 0
  if (mayInstall) {
    console.log(`Installing for the tests: ${missing.map(need => need.debian).join(', ')} …`)
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    const options = { stdio: ['ignore', 'ignore', 'inherit'], env }
    spawnSync('apt-get', ['update', '-qq'], options)
    spawnSync(
      'apt-get',
      ['install', '-y', '-qq', '--no-install-recommends', ...missing.flatMap(need => need.debian.split(' '))],
      options,
    )
  }
  const still = needed.filter(need => !need.isThere())
  if (still.length === 0) return
  for (const need of still) {
    console.error(`Missing: ${need.what}. ${need.byHand} (Debian: apt-get install ${need.debian})`)
  }
  process.exit(1)
}
