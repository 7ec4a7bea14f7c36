/**
 * What a file of the built app may load: itself and nothing else. No inline script, no inline style
 * element or attribute (styles set through the object model are not affected), no foreign origin.
 * `'wasm-unsafe-eval'` lets WebAssembly compile (the raw decoder) and does not allow eval().
 * `blob:` pictures are the photos that the user opens.
 *
 * @param {{ scripts?: string, workers?: string }} more sources, each after a blank
 */
const policyWith = ({ scripts = '', workers = '' }) =>
  [
    "default-src 'self'",
    `script-src 'self' 'wasm-unsafe-eval'${scripts}`,
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "media-src 'self' blob:",
    `worker-src 'self'${workers}`,
    "connect-src 'self' blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
  ].join('; ')

/** Of scripts, workers among them: the reader of films starts some of its own out of text. */
export const contentSecurityPolicy = policyWith({ workers: ' blob:' })

/**
 * The same for a page, where the engine has Trusted Types: text becomes a script's address only through
 * the one policy that the app makes at its start (`src/trusted-types.ts`), and never a script or markup.
 * Its workers are files of the app.
 * https://w3c.github.io/trusted-types/dist/spec/
 */
export const pagePolicy = `${policyWith({})}; require-trusted-types-for 'script'; trusted-types default`

/**
 * The policy of the raw decoder's own worker, and of nothing else: the glue code of its WebAssembly
 * makes functions out of text when it starts, which only 'unsafe-eval' allows. A worker obeys the
 * policy of its own file, so the page's stays as strict as it is.
 */
export const decoderPolicy = policyWith({ scripts: " 'unsafe-eval'", workers: ' blob:' })

/**
 * Cross-origin isolation, which shared memory asks for: the raw decoder runs on several threads.
 * https://html.spec.whatwg.org/multipage/browsers.html#cross-origin-isolation
 */
export const isolationHeaders = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
}

/** What the app asks the device for; all else that engines know of is off, for what it carries too. */
const permissions = [
  'camera=(self)',
  'screen-wake-lock=(self)',
  'fullscreen=(self)',
  'accelerometer=()',
  'clipboard-read=()',
  'display-capture=()',
  'encrypted-media=()',
  'geolocation=()',
  'gyroscope=()',
  'hid=()',
  'idle-detection=()',
  'keyboard-map=()',
  'local-fonts=()',
  'magnetometer=()',
  'microphone=()',
  'midi=()',
  'payment=()',
  'publickey-credentials-get=()',
  'serial=()',
  'storage-access=()',
  'usb=()',
  'window-management=()',
  'xr-spatial-tracking=()',
].join(', ')

/** Files of the raw decoder. */
export const decoderPath = '/assets/raw/'

/**
 * The headers that go with a file of the built app. Workers obey the policy of their own file, not that
 * of the page: so it is sent with each.
 *
 * @param {string} path
 * @returns {Record<string, string>}
 */
export function headersFor(path) {
  const policy = path.startsWith(decoderPath)
    ? decoderPolicy
    : /\.js$/.test(path)
      ? contentSecurityPolicy
      : pagePolicy
  return {
    ...isolationHeaders,
    'Content-Security-Policy': `${policy}; frame-ancestors 'none'`,
    'Permissions-Policy': permissions,
    'Referrer-Policy': 'no-referrer',
    'X-Content-Type-Options': 'nosniff',
  }
}
