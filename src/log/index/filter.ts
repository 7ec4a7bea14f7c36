import type { Method } from '../schema/reading-schema.ts'

/** Which readings are wanted; what is left out does not narrow. All that is given must hold. */
export interface Filter {
  /** Every word must occur in object, material, tags or notes; letter case and accents are ignored. */
  readonly text?: string
  /** Names as given; letter case and accents are ignored. */
  readonly object?: string
  readonly material?: string
  readonly tag?: string
  readonly series?: string
  readonly methods?: readonly Method[]
  /** Milliseconds since 1970, both included. */
  readonly fromMs?: number
  readonly toMs?: number
  /** The temperature shown (an upper bound counts by its value), K, both included. */
  readonly fromK?: number
  readonly toK?: number
  readonly simulated?: boolean
  readonly demo?: boolean
  readonly damaged?: boolean
}
