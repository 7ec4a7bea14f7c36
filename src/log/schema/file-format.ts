/** The log as a file: one JSON object, alone or with pictures in a ZIP. */
import { MEMBERS_MOST } from './json-value.ts'
import { READING_VERSION } from './reading-schema.ts'

export const FILE_SCHEMA = 'glowbook-log'
/** Moves with the shape of the records. */
export const FILE_VERSION = READING_VERSION

/**
 * Bounds of a file from outside. Generous for the largest real log, so that whatever was exported
 * can be imported; small enough that a hostile file ends early.
 */
export const FILE_LIMITS = {
  /** Records in one file. */
  readings: 1_000_000,
  kit: 20_000,
  /** Characters of one record's JSON text; records are saved with at most a sixth (escapes). */
  recordCharacters: 24_000_000,
  /** Characters of anything else at the top (schema, version, time). */
  memberCharacters: 10_000,
  /** Containers within containers, in the whole file. */
  depth: 48,
  membersOfObject: MEMBERS_MOST,
  /** Of one record. */
  containers: 300_000,
  /** A ZIP: its directory, its entries, one part of the log, all of it. */
  zipDirectoryBytes: 128_000_000,
  zipEntries: 1_100_000,
  zipPartBytes: 1_000_000_000,
  zipTotalBytes: 64_000_000_000,
  /** Inflated over deflated: real logs reach about 30; deflate can reach 1032. */
  zipRatio: 250,
} as const

/** Characters of one record as it is saved. */
export const RECORD_LIMITS = { depth: 32, characters: 4_000_000 } as const

export const LOG_PART = /^(?:[^/]+\/)?log(?:-\d{1,6})?\.json$/
export const PICTURE_ENTRY =
  /^(?:[^/]+\/)?pictures\/([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\.(?:jpg|png|webp)$/

export function pictureName(id: string, type: string): string {
  const ending = type === 'image/jpeg' ? 'jpg' : type === 'image/png' ? 'png' : 'webp'
  return `pictures/${id}.${ending}`
}
