import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const script = fileURLToPath(new URL('../../scripts/start.mjs', import.meta.url))

/**
 * Starts npm start's script on the app as built (other tests are served from it meanwhile) and resolves
 * with what it prints until it says how to end it.
 */
function start(...args: string[]) {
  const child = spawn(process.execPath, [script, '--no-build', ...args])
  let printed = ''
  const said = new Promise<string>((resolve, reject) => {
    const onData = (data: Buffer) => {
      printed += data
      if (printed.includes('Ctrl+C')) resolve(printed)
    }
    child.stdout.on('data', onData)
    child.stderr.on('data', onData)
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${printed}`)))
  })
  return { child, said }
}

test('npm start serves, and says where and what a phone needs', async () => {
  const { child, said } = start('--port', '0', '--host', 'localhost')
  try {
    const text = await said
    const address = /http:\/\/localhost:\d+\//.exec(text)?.[0]
    expect(address).toBeDefined()
    expect(text).toMatch(/[█▀▄]{4}/) // the QR code
    expect(text).toContain('On a phone')

    const deep = await fetch(`${address}log/42`)
    expect(deep.status).toBe(200)
    expect(deep.headers.get('content-type')).toContain('text/html')
    expect(deep.headers.get('cross-origin-opener-policy')).toBe('same-origin')
    expect(deep.headers.get('cross-origin-embedder-policy')).toBe('require-corp')
    expect(await deep.text()).toContain('<title>Glowbook</title>')
    const ask = (path: string, accept: string) =>
      fetch(`${address}${path}`, { headers: { accept } })
    // The name of a series may hold a dot; a page is what a browser asks for when it opens a link.
    const page = 'text/html,application/xhtml+xml,*/*;q=0.8'
    const dotted = await ask('log/series%2Ftest%20no.%204', page)
    expect(dotted.status).toBe(200)
    expect(await dotted.text()).toContain('<title>Glowbook</title>')
    expect((await ask('log/series%2Ftest%20no.%204', 'image/*')).status).toBe(404)
    expect((await ask('icons/gone.png', '*/*')).status).toBe(404)
    expect((await ask('service-worker.js', page)).headers.get('content-type')).toContain(
      'javascript',
    )
    expect((await ask('assets/gone.js', page)).status).toBe(404)
    expect((await fetch(`${address}assets/gone.js`)).status).toBe(404)
    expect((await fetch(`${address}..%2f..%2fpackage.json`)).status).toBe(404)
  } finally {
    child.kill()
  }
})

test('npm start refuses a port that is none and says what is allowed', async () => {
  await expect(start('--port', 'many').said).rejects.toThrow(/whole number from 0 to 65535/)
})

test('npm start asks for the key that belongs to a certificate', async () => {
  await expect(start('--cert', 'cert.pem').said).rejects.toThrow(/--key/)
})
