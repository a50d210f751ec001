import { spawn } from 'node:child_process'

/** How each system opens an address in the user's browser. */
export function browserCommand(url: string, platform: NodeJS.Platform = process.platform): readonly string[] {
  if (platform === 'darwin') return ['open', url]
  if (platform === 'win32') return ['rundll32', 'url.dll,FileProtocolHandler', url]
  return ['xdg-open', url]
}

/** Opens it if that can be done; where it cannot (no desktop) the printed address is enough. */
export function openBrowser(url: string): void {
  const [command = '', ...words] = browserCommand(url)
  const child = spawn(command, words, { stdio: 'ignore', detached: true })
  child.on('error', () => {})
  child.unref()
}
