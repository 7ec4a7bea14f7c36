/**
 * Summaries are kept in blocks: 128 readings a row, their numbers in typed arrays and their texts in
 * two long strings. A log of 100,000 readings is then 782 rows that the browser copies at memory
 * speed, instead of 100,000 objects that it builds one by one. Blocks are derived data: they are
 * written in the transaction that writes the reading, and can be made again from the readings.
 */
import { digestOf, flagsOf, lineOf } from '../index/summary.ts'
import type { Summary } from '../schema/types.ts'

/** Changes when the content of a block changes its meaning; older blocks are then made again. */
export const BLOCKS_VERSION = 2
export const BLOCK_SIZE = 128

export interface Block {
  /** Sequence number of its first reading over {@link BLOCK_SIZE}. */
  readonly block: number
  /** NaN marks an empty slot: no reading yet, or a removed one. */
  readonly takenAtMs: Float64Array
  /** NaN where the reading has no number. */
  readonly temperatureK: Float64Array
  readonly flags: Uint16Array
  /** One line a slot. */
  readonly digests: string
  readonly lines: string
}

export const blockOf = (seq: number) => Math.floor(seq / BLOCK_SIZE)
export const slotOf = (seq: number) => seq % BLOCK_SIZE

/** What one slot is to hold; null empties it. */
export type Slot = { readonly summary: Summary; readonly notes: string } | null

/** A new block with some slots replaced; the old one stays as it was, for those who look at it. */
export function withSlots(
  block: number,
  old: Block | undefined,
  slots: ReadonlyMap<number, Slot>,
): Block {
  const takenAtMs = old?.takenAtMs.slice() ?? new Float64Array(BLOCK_SIZE).fill(Number.NaN)
  const temperatureK = old?.temperatureK.slice() ?? new Float64Array(BLOCK_SIZE).fill(Number.NaN)
  const flags = old?.flags.slice() ?? new Uint16Array(BLOCK_SIZE)
  const digests = old?.digests.split('\n') ?? new Array<string>(BLOCK_SIZE).fill('')
  const lines = old?.lines.split('\n') ?? new Array<string>(BLOCK_SIZE).fill('')
  for (const [slot, content] of slots) {
    takenAtMs[slot] = content?.summary.takenAtMs ?? Number.NaN
    temperatureK[slot] = content?.summary.temperatureK ?? Number.NaN
    flags[slot] = content === null ? 0 : flagsOf(content.summary)
    digests[slot] = content === null ? '' : digestOf(content.summary, content.notes)
    lines[slot] = content === null ? '' : lineOf(content.summary)
  }
  return {
    block,
    takenAtMs,
    temperatureK,
    flags,
    digests: digests.join('\n'),
    lines: lines.join('\n'),
  }
}
