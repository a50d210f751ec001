import { type Browser, chromium } from 'playwright-core'
import { findBrowser } from '../../scripts/systemPackages.mjs'

export const CHROMIUM_ARGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
] as const

/** Starts the browser that `scripts/systemPackages.mjs` found or installed; a missing one is a failure, not a skip. */
export async function startBrowser(): Promise<Browser> {
  const executablePath = findBrowser()
  if (executablePath === null) throw new Error('No Chromium was found. `npm test` installs it or says how.')
  return chromium.launch({
    executablePath,
    args: [...CHROMIUM_ARGS],
  })
}
