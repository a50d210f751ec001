import { existsSync } from 'node:fs'
import { join } from 'node:path'

type Env = Readonly<Record<string, string | undefined>>

/** Names of Chromium-family browsers on the search path, the plainest first. */
const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
  'chrome',
]

/** Where each system keeps the browsers that are not on the search path. */
const PLACES: Readonly<Record<string, readonly string[]>> = {
  linux: ['/snap/bin/chromium', '/opt/google/chrome/chrome'],
  darwin: [
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
    'C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
}

/**
 * The path of an installed Chromium-family browser, or `null`. `TENTERHOOK_BROWSER` names one, and with
 * `none` none is used.
 */
export function findBrowser(env: Env = process.env, there = existsSync): string | null {
  const named = env.TENTERHOOK_BROWSER ?? ''
  if (named === 'none') return null
  if (named !== '') return there(named) ? named : null
  const separator = process.platform === 'win32' ? ';' : ':'
  const folders = (env.PATH ?? '').split(separator).filter(folder => folder !== '')
  const ending = process.platform === 'win32' ? '.exe' : ''
  for (const name of NAMES)
    for (const folder of folders) {
      const path = join(folder, `${name}${ending}`)
      if (there(path)) return path
    }
  return (PLACES[process.platform] ?? []).find(path => there(path)) ?? null
}

/** How a browser is started without a window, with a profile of its own and without a word to the network. */
export function browserArguments(profile: string): string[] {
  return [
    '--headless',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--no-default-browser-check',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-extensions',
    '--disable-sync',
    '--mute-audio',
    `--user-data-dir=${profile}`,
    // The browser's own walls do not stand for the superuser, as in a container.
    ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  ]
}
