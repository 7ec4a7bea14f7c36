/** A small server for the built app. Node's own modules only: it runs before anything else is there. */
import { createHash } from 'node:crypto'
import { readFile, stat } from 'node:fs/promises'
import http from 'node:http'
import https from 'node:https'
import { extname, join, sep } from 'node:path'
import { brotliCompressSync, constants, gzipSync } from 'node:zlib'
import { headersFor } from './csp.mjs'

/** @type {Record<string, string>} */
const types = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.jpg': 'image/jpeg',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.md': 'text/markdown; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
}
const packable = /^(text\/|application\/(json|manifest|wasm)|image\/svg)/

/** @typedef {{ type: string, etag: string, plain: Buffer, packed: Map<string, Buffer> }} Item */

/**
 * @param {object} options
 * @param {string} options.folder the built app
 * @param {number} [options.port] 0, the default, takes a free one
 * @param {string} [options.host] without it every interface
 * @param {{ cert: Buffer, key: Buffer }} [options.secure] serve https with this certificate
 * @returns {Promise<{ port: number, close: () => Promise<void> }>} rejects when the port is taken
 */
export async function serve({ folder, port = 0, host, secure }) {
  /** @type {Map<string, Item & { stamp: string }>} */
  const items = new Map()

  /** @param {string} path @returns {Promise<Item | undefined>} */
  async function item(path) {
    const file = join(folder, path)
    if (file !== folder && !file.startsWith(folder.endsWith(sep) ? folder : folder + sep)) return
    const about = await stat(file).catch(() => undefined)
    if (about === undefined || !about.isFile()) return
    const stamp = `${about.mtimeMs} ${about.size}`
    const kept = items.get(file)
    if (kept?.stamp === stamp) return kept
    const plain = await readFile(file)
    const made = {
      stamp,
      plain,
      type: types[extname(file).toLowerCase()] ?? 'application/octet-stream',
      etag: `"${createHash('sha1').update(plain).digest('base64url')}"`,
      packed: new Map(),
    }
    items.set(file, made)
    return made
  }

  /** @param {http.IncomingMessage} request @param {http.ServerResponse} response */
  async function answer(request, response) {
    const path = decodePath(request.url ?? '/')
    for (const [name, value] of Object.entries(headersFor(path ?? '/'))) {
      response.setHeader(name, value)
    }
    if (path === undefined) return end(response, 400, 'Bad address.')
    if (request.method === 'POST' && path === '/share') {
      // What is shared is received by the service worker; here it is missing, so the file is lost.
      request.resume()
      response.setHeader('Location', '/?shared=failed')
      return end(response, 303, '')
    }
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.setHeader('Allow', 'GET, HEAD')
      return end(response, 405, 'Only GET and HEAD.')
    }
    const found =
      (await item(path)) ?? (isPlace(path, request) ? await item('/index.html') : undefined)
    if (found === undefined) return end(response, 404, 'Not found.')

    // Names under /assets carry a hash of their content; all others may change with the next build.
    const cache = path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache'
    response.setHeader('Cache-Control', cache)
    response.setHeader('Content-Type', found.type)
    response.setHeader('ETag', found.etag)
    response.setHeader('Vary', 'Accept-Encoding')
    if (request.headers['if-none-match'] === found.etag) return end(response, 304, '')
    const body = pack(found, String(request.headers['accept-encoding'] ?? ''), response)
    response.setHeader('Content-Length', body.length)
    response.end(request.method === 'HEAD' ? undefined : body)
  }

  /** @type {http.RequestListener} */
  const listener = (request, response) => {
    answer(request, response).catch((error) => {
      console.error(error)
      if (!response.headersSent) end(response, 500, 'The server failed.')
      else response.destroy()
    })
  }
  const server = secure ? https.createServer(secure, listener) : http.createServer(listener)
  await new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen({ port, ...(host === undefined ? {} : { host }) }, () => resolve(undefined))
  })
  const address = server.address()
  return {
    port: typeof address === 'object' && address !== null ? address.port : port,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}

/**
 * A path that cannot be decoded is taken as it stands: it names no file, but may be a place of the app.
 *
 * @param {string} url @returns {string | undefined}
 */
function decodePath(url) {
  const path = pathOf(url)
  if (path === undefined) return undefined
  try {
    const decoded = decodeURIComponent(path)
    return decoded.includes('\0') ? undefined : decoded
  } catch {
    return path
  }
}

/** @param {string} url @returns {string | undefined} */
function pathOf(url) {
  try {
    return new URL(url, 'http://localhost').pathname
  } catch {
    return undefined
  }
}

/**
 * Is this a place inside the app? A path without an ending is; one with a dot (the name of a series
 * may have one) only where a page is asked for, so that a missing script or picture stays missing.
 *
 * @param {string} path @param {http.IncomingMessage} request
 */
function isPlace(path, request) {
  if (path.startsWith('/assets/')) return false
  const hasEnding = path.slice(path.lastIndexOf('/')).includes('.')
  return !hasEnding || String(request.headers.accept ?? '').includes('text/html')
}

/** @param {http.ServerResponse} response @param {number} status @param {string} text */
function end(response, status, text) {
  response.statusCode = status
  if (text !== '') response.setHeader('Content-Type', 'text/plain; charset=utf-8')
  response.end(text)
}

/** @param {Item} item @param {string} accepted @param {http.ServerResponse} response */
function pack(item, accepted, response) {
  if (!packable.test(item.type)) return item.plain
  const coding = /\bbr\b/.test(accepted) ? 'br' : /\bgzip\b/.test(accepted) ? 'gzip' : undefined
  if (coding === undefined) return item.plain
  response.setHeader('Content-Encoding', coding)
  const kept = item.packed.get(coding)
  if (kept !== undefined) return kept
  const body =
    coding === 'gzip'
      ? gzipSync(item.plain)
      : brotliCompressSync(item.plain, { params: { [constants.BROTLI_PARAM_QUALITY]: 6 } })
  item.packed.set(coding, body)
  return body
}
