/**
 * The one policy by which text may become the address of a script (workers, the service worker): it
 * must be a file of this app. Markup and scripts from text have no policy at all.
 * https://w3c.github.io/trusted-types/dist/spec/
 */
interface TrustedTypes {
  createPolicy(name: string, rules: { createScriptURL(url: string): string }): unknown
}

const { trustedTypes } = globalThis as { trustedTypes?: TrustedTypes }
trustedTypes?.createPolicy('default', {
  createScriptURL(url) {
    const { origin, protocol } = new URL(url, location.href)
    // Text in the page's own memory has its origin too.
    if (origin === location.origin && protocol !== 'blob:') return url
    throw new TypeError(`no script of this app: ${url}`)
  },
})
