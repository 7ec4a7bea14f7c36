/**
 * The headers of the built app as files that common static hosts read: `_headers` (hosts that take a
 * list of paths with headers), `.htaccess` (Apache) and a piece of an nginx server block. Written by
 * the build from the one place where the policies stand.
 */
import { decoderPath, headersFor } from './csp.mjs'

const hashed = '/assets/'
const forever = 'public, max-age=31536000, immutable'

/** @type {{ pattern: string, apache: string, nginx: string, path: string, cache: string }[]} */
const groups = [
  { pattern: '/*', apache: '.', nginx: '/', path: '/index.html', cache: 'no-cache' },
  {
    pattern: `${hashed}*.js`,
    apache: '\\.js$',
    nginx: '~ ^/assets/.*\\.js$',
    path: '/assets/x.js',
    cache: forever,
  },
  {
    pattern: `${decoderPath}*`,
    apache: '^libraw|^worker',
    nginx: `^~ ${decoderPath}`,
    path: `${decoderPath}x.js`,
    cache: forever,
  },
]

/** @returns {{ fileName: string, source: string }[]} */
export function hostFiles() {
  return [
    { fileName: '_headers', source: headerList() },
    { fileName: '.htaccess', source: apache() },
    { fileName: 'nginx-server-block.conf', source: nginx() },
  ]
}

/** @param {string} path @param {string} cache */
const entries = (path, cache) => Object.entries({ ...headersFor(path), 'Cache-Control': cache })

function headerList() {
  // Where several patterns fit, the last one holds: what the first has set is taken back before.
  return groups
    .map(({ pattern, path, cache }, i) => {
      const drop = i === 0 ? [] : Object.keys(headersFor(path)).map((name) => `  ! ${name}`)
      const cacheDrop = i === 0 ? [] : ['  ! Cache-Control']
      const set = entries(path, cache).map(([name, value]) => `  ${name}: ${value}`)
      return [pattern, ...drop, ...cacheDrop, ...set].join('\n')
    })
    .join('\n\n')
    .concat('\n')
}

function apache() {
  const blocks = groups.map(({ apache: pattern, path, cache }) => {
    const set = entries(path, cache).map(
      ([name, value]) => `    Header always set ${name} "${value}"`,
    )
    return `  <FilesMatch "${pattern}">\n${set.join('\n')}\n  </FilesMatch>`
  })
  return `# Places inside the app are the page's own affair.
FallbackResource /index.html
AddType application/manifest+json .webmanifest
AddType application/wasm .wasm
<IfModule mod_headers.c>
${blocks.join('\n')}
</IfModule>
`
}

function nginx() {
  const blocks = groups.map(({ nginx: pattern, path, cache }) => {
    const set = entries(path, cache).map(
      ([name, value]) => `  add_header ${name} "${value}" always;`,
    )
    const files = pattern === '/' ? '  try_files $uri /index.html;\n' : ''
    return `location ${pattern} {\n${files}${set.join('\n')}\n}`
  })
  return `# Inside the server block whose root is this folder.\n${blocks.join('\n')}\n`
}
