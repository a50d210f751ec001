import { FRAME_POLICY } from '../publish/report/previewFrame.ts'

/**
 * Sent with every answer. Everything comes from this server, and nothing but the preview may be framed; no inline script
 * or style, so that text from a log, even where a page forgot to escape it, cannot run.
 */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "media-src 'self' blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "frame-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; '),
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), payment=(), usb=(), serial=(self)',
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
}

/** Instead of these with the frame that previews a report: it alone may stand in a page of ours, and has no rights there. */
export const PREVIEW_HEADERS: Readonly<Record<string, string>> = {
  'content-security-policy': FRAME_POLICY,
  'x-frame-options': 'SAMEORIGIN',
}
