// What a release writes: pure texts, so that they are tested.

/** The heading under which changes gather until they are released. */
export const NEXT = '## Next'

const PARTS = /^(\d+)\.(\d+)\.(\d+)$/

/** Whether `version` is three whole numbers and comes after `before`. */
export function comesAfter(version, before) {
  const [a, b] = [version, before].map(text => PARTS.exec(text)?.slice(1).map(Number))
  if (!a || !b) return false
  const at = a.findIndex((part, i) => part !== b[i])
  return at >= 0 && a[at] > b[at]
}

/**
 * The changelog with what is gathered put under the new version and its day; `null` where nothing is
 * gathered.
 */
export function releasedChangelog(changelog, version, day) {
  const begin = changelog.indexOf(`${NEXT}\n`)
  if (begin < 0) return null
  const after = changelog.slice(begin + NEXT.length)
  const end = after.search(/^## /m)
  if ((end < 0 ? after : after.slice(0, end)).trim() === '') return null
  return `${changelog.slice(0, begin)}## ${version} (${day})${after}`
}

/** The engine's version file, telling the new version; `null` where its line is not found. */
export function versionFile(text, version) {
  const line = /^(export const ENGINE_VERSION = ')[^']*(')$/m
  return line.test(text) ? text.replace(line, `$1${version}$2`) : null
}
