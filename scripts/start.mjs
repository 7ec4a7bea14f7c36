/**
 * npm start: installs what is missing, builds, serves the built app and says how a phone reaches it.
 *
 *   npm start                   this machine only
 *   npm start -- --network      every device in the network, too
 *   npm start -- --port 8080 --cert cert.pem --key key.pem
 *   npm start -- --no-build     what was built before
 */
import { existsSync, readFileSync } from 'node:fs'
import { networkInterfaces } from 'node:os'
import { join } from 'node:path'
import { exit } from 'node:process'
import { parseArgs } from 'node:util'
import { buildApp } from './build.mjs'
import { ensureInstalled, root } from './install.mjs'
import { serve } from './server.mjs'

const options = readOptions()
ensureInstalled()
if (!options.built || !existsSync(join(root, 'dist', 'index.html')))
  await buildApp('warn').catch((error) => {
    console.error(error instanceof Error ? error.message : error)
    console.error('The app could not be built; nothing is served.')
    exit(1)
  })

const server = await serve({ folder: join(root, 'dist'), ...options }).catch((error) => {
  if (error.code !== 'EADDRINUSE') throw error
  console.error(`Port ${options.port} is taken. Choose another: npm start -- --port 8080`)
  exit(1)
})
const scheme = options.secure ? 'https' : 'http'
const here = `${scheme}://localhost:${server.port}/`
const onNetwork = options.host === undefined ? networkAddress() : undefined
const there = onNetwork && `${scheme}://${onNetwork}:${server.port}/`

const { renderUnicodeCompact } = await import('uqr')
console.log(`
Glowbook on this machine:   ${here}`)
if (there) console.log(`In your own network:        ${there}`)
console.log(`
${renderUnicodeCompact(there ?? here)}
${phoneAdvice()}
Ctrl+C ends it.`)

function readOptions() {
  try {
    const { values } = parseArgs({
      options: {
        port: { type: 'string', default: '4173' },
        host: { type: 'string', default: 'localhost' },
        network: { type: 'boolean', default: false },
        cert: { type: 'string' },
        key: { type: 'string' },
        'no-build': { type: 'boolean', default: false },
      },
    })
    const port = Number(values.port)
    if (!Number.isInteger(port) || port < 0 || port > 65535)
      throw new Error(`--port is ${values.port}; it must be a whole number from 0 to 65535.`)
    if ((values.cert === undefined) !== (values.key === undefined))
      throw new Error('--cert and --key go together: the certificate and its private key.')
    return {
      built: values['no-build'],
      port,
      // A shop's network is not the user's: other devices are let in when asked for.
      ...(values.network ? {} : { host: values.host }),
      ...(values.cert === undefined || values.key === undefined
        ? {}
        : { secure: { cert: readFileSync(values.cert), key: readFileSync(values.key) } }),
    }
  } catch (error) {
    console.error(error instanceof Error ? error.message : error)
    exit(1)
  }
}

/** The first address of this machine that another one in the same network can reach. */
function networkAddress() {
  const all = Object.values(networkInterfaces()).flatMap((addresses) => addresses ?? [])
  return all.find((address) => address.family === 'IPv4' && !address.internal)?.address
}

/** What the phone's browser allows at this address: https://w3c.github.io/webappsec-secure-contexts/ */
function phoneAdvice() {
  if (options.secure)
    return `On a phone: if it trusts this certificate, everything works, offline too after the first
visit. With a self-signed certificate the live camera works, but nothing is kept for offline use:
install your certificate authority on the phone, or use a real certificate.`
  if (!onNetwork)
    return `On a phone: nothing but this machine is served. For the phones in your network:
  npm start -- --network
With a USB cable the phone gets everything, live camera and offline use too: forward its port
${server.port} to this machine (Android: Chrome's remote debugging, port forwarding) and open ${here} there.`
  return `On a phone: at the network address photos can be opened and read, but a browser gives the live
camera and offline use to secure addresses only. Two ways:
- USB cable: forward the phone's port ${server.port} to this machine (Android: Chrome's remote debugging,
  port forwarding) and open ${here} on the phone.
- Put the folder dist on any web host with https, or give a certificate that the phone trusts:
  npm start -- --cert cert.pem --key key.pem`
}
