import { isSpectrumText } from './spectrum/text-types.ts'

/**
 * Names shared by the page and its service worker, which are built apart.
 *
 * The app is kept for offline use in two tiers: the shell at the first visit, and the parts below,
 * too heavy for everybody's first visit, once they are used or asked for.
 */
export const offlineParts = {
  /** The raw decoder, about 0.6 MB to fetch. */
  raw: /^\/assets\/raw\//,
  /** The HEIC decoder, about 0.5 MB to fetch. */
  heif: /^\/assets\/heif\//,
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

/** Where the system's share sheet sends files: `share_target` of the web app manifest. */
export const sharePath = '/share'
/** The form fields by kind; the system sorts by type, and not always well. */
export const shareFields = { photo: 'photos', spectrum: 'spectra' } as const
export type SharedKind = keyof typeof shareFields

/** What a shared file is opened as: text as spectra, anything else as a photo. */
export function sharedKindOf(file: { name: string; type: string }): SharedKind {
  return isSpectrumText(file) ? 'spectrum' : 'photo'
}

/**
 * The place that shared files open at: photos at the reading, texts at the spectrum way. `shared` says
 * how many came, or `failed`; `texts` how many texts came along with photos.
 */
export function sharedPlace(came: { photos: number; texts: number } | 'failed'): string {
  if (came === 'failed') return '/?shared=failed'
  const { photos, texts } = came
  if (photos === 0 && texts > 0) return `/reading/spectrum?shared=${texts}`
  return texts > 0 ? `/?shared=${photos}&texts=${texts}` : `/?shared=${photos}`
}

export const sharedCache = 'glowbook-shared'
export const partsCache = 'glowbook-parts'
