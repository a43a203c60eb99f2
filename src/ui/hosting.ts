/**
 * What a host should send with every file of the app, beside the policy that stands in `index.html`: a page cannot
 * forbid to be framed by itself (CSP Level 3, section 3.3: `frame-ancestors` is ignored in a meta element). The preview
 * and the development server send them; the README names them.
 */
export const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': "frame-ancestors 'none'",
  'X-Frame-Options': 'DENY',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Permissions-Policy': 'microphone=(self), camera=(), geolocation=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
};
