import type { IncomingHttpHeaders } from 'node:http'

/** Why a request is turned away, for people; `null` where it may pass. */
export type Refusal = { readonly status: 400 | 403 | 421; readonly what: string } | null

/**
 * Whether a request comes from our own page, a program of this machine, or from a page of another site.
 *
 * A page elsewhere can make its name point to this address (DNS rebinding): then `Host` is that name, and only our own
 * are answered. It can also send requests from where it is (cross-site): then `Origin` or `Sec-Fetch-Site` says so
 * (Fetch Standard; Fetch Metadata), and nothing is answered, reads included. A program sends neither and may pass.
 */
export function refusal(
  headers: IncomingHttpHeaders,
  ownHosts: ReadonlySet<string>,
  { isSocket, isPage }: { isSocket: boolean; isPage: boolean },
): Refusal {
  const { host, origin } = headers
  if (host === undefined || !ownHosts.has(host.toLowerCase()))
    return { status: 421, what: 'this server does not answer to that name' }
  if (origin !== undefined) {
    const from = originHost(origin)
    if (from === null || !ownHosts.has(from))
      return { status: 403, what: 'requests from another site are not answered' }
  }
  const site = headers['sec-fetch-site']
  const sameSite = site === undefined || site === 'same-origin' || site === 'none'
  // A link from elsewhere may open the page itself: it then asks for the rest by itself.
  const isLink = isPage && headers['sec-fetch-mode'] === 'navigate'
  if (!sameSite && !isLink && !isSocket)
    return { status: 403, what: 'requests from another site are not answered' }
  return null
}

/** Host and port of an origin over plain HTTP; `null` for any other, and for the opaque `null`. */
function originHost(origin: string): string | null {
  const match = /^http:\/\/([^/]+)$/.exec(origin.toLowerCase())
  return match?.[1] ?? null
}

/** What a server on this port is called: by its addresses, as a browser writes them. */
export function ownHosts(addresses: readonly string[], port: number): ReadonlySet<string> {
  const hosts = addresses.map(address => (address.includes(':') ? `[${address}]` : address))
  // A browser leaves the usual port out.
  return new Set([...hosts.map(host => `${host}:${port}`), ...(port === 80 ? hosts : [])])
}
