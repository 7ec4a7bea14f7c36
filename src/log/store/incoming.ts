import type { PictureRow } from '../index/rows.ts'
import type { KitItem } from '../schema/kit-schema.ts'
import type { Reading } from '../schema/reading-schema.ts'

/** Checked content of a file on its way in, kept aside until it is merged in one transaction. */
export type IncomingRow = {
  /** Which import it belongs to. */
  readonly batch: string
  readonly atMs: number
} & (
  | { readonly kind: 'readings'; readonly readings: readonly Reading[] }
  | { readonly kind: 'kit'; readonly items: readonly KitItem[] }
  | { readonly kind: 'pictures'; readonly pictures: readonly PictureRow[] }
)
