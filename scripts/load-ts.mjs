/** Imports TypeScript under Node, through Vite: it resolves the imports with .ts endings. */
import { createServer } from 'vite'
import { root } from './install.mjs'

/**
 * Hands `work` a function that imports a module by its path. Imports that the modules make later,
 * while `work` runs, work too.
 *
 * @template T
 * @param {(load: (path: string) => Promise<Record<string, any>>) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function withTypeScript(work) {
  const server = await createServer({
    root,
    configFile: false,
    logLevel: 'warn',
    appType: 'custom',
    server: { middlewareMode: true, hmr: false, ws: false, watch: null },
    optimizeDeps: { noDiscovery: true },
  })
  try {
    return await work((path) => server.ssrLoadModule(path))
  } finally {
    await server.close()
  }
}
