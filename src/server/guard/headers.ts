/**
 * Sent with every answer. The page may load what this server gives and nothing else; styles may stand in the page, since
 * the parts set positions that way; workers may come from the page's own memory, since the map makes them so.
 * A base map that the user has switched on adds its own server, for pictures and for what describes them, and no other.
 */
const contentSecurityPolicy = (more: string): string =>
  [
    "default-src 'self'",
    "style-src 'self' 'unsafe-inline'",
    `img-src 'self' data: blob:${more}`,
    "font-src 'self'",
    `connect-src 'self'${more}`,
    "worker-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ')

export const guardHeaders = (mapOrigin: string | null): Readonly<Record<string, string>> => ({
  'content-security-policy': contentSecurityPolicy(mapOrigin === null ? '' : ` ${mapOrigin}`),
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-embedder-policy': 'require-corp',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=()',
  'cache-control': 'no-store',
})
