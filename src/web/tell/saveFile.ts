/** Long enough for any browser to have begun reading. */
const KEPT_MS = 60_000

/** Hands a file to the browser, which keeps it where it keeps downloads. */
export function saveFile(name: string, content: Blob): void {
  const address = URL.createObjectURL(content)
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS)
}
