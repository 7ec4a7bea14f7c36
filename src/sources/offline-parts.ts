/**
 * Names shared by the page and its service worker, which are built apart.
 *
 * The app is kept for offline use in two tiers: the shell at the first visit, and the parts below,
 * too heavy for everybody's first visit, once they are used or asked for.
 */
export const offlineParts = {
  /** The raw decoder, about 0.6 MB to fetch. */
  raw: /^\/assets\/raw\//,
} as const

export type OfflinePart = keyof typeof offlineParts

/** The part that a path of the built app belongs to, undefined for the shell. */
export function offlinePartOf(path: string): OfflinePart | undefined {
  const parts = Object.keys(offlineParts) as OfflinePart[]
  return parts.find((part) => offlineParts[part].test(path))
}

/** Asks the service worker to fetch and keep a part; answered through the port with KeepAnswer. */
export interface KeepRequest {
  type: 'KEEP_PART'
  part: OfflinePart
}

export interface KeepAnswer {
  /** Whether all files of the part are in the cache now. */
  kept: boolean
}

/** Where the system's share sheet sends photos: `share_target` of the web app manifest. */
export const sharePath = '/share'
/** The form field of the photos. */
export const shareField = 'photos'
/** The place a shared photo opens at; `shared` says how many photos came, or `failed`. */
export const sharedPlace = '/?shared='

export const sharedCache = 'glowbook-shared'
export const partsCache = 'glowbook-parts'
