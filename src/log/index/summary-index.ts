/** All summaries in memory: found by filter, ordered by time, read one by one when shown. */

import { METHODS } from '../schema/reading-schema.ts'
import type { LogView, Summary, Term, Vocabulary } from '../schema/types.ts'
import { BLOCK_SIZE, type Block, blockOf, slotOf } from '../store/blocks.ts'
import { mainYielder } from '../store/yield-to-main.ts'
import type { Filter } from './filter.ts'
import { wordsOf } from './fold.ts'
import { sortDescending } from './merge-sort.ts'
import {
  DAMAGED,
  DEMO,
  METHOD_BITS,
  SIMULATED,
  summaryFromLine,
  summaryOfDamaged,
  wholeMaterial,
  wholeObject,
  wholeSeries,
  wholeTag,
} from './summary.ts'

export interface SummaryIndex {
  /** Puts a changed block in the place of its former self. */
  replace(block: Block): void
  find(filter?: Filter): LogView
  vocabulary(): Promise<Vocabulary>
}

export function makeIndex(rows: readonly Block[]): SummaryIndex {
  /** By number; a block that is nowhere is undefined. */
  let blocks: (LoadedBlock | undefined)[] = []
  for (const row of rows) blocks[row.block] = new LoadedBlock(row)
  let order: Uint32Array | undefined

  return {
    replace(row) {
      // A view goes on looking at the blocks that it was made of.
      blocks = blocks.slice()
      blocks[row.block] = new LoadedBlock(row)
      order = undefined
    },
    find(filter = {}) {
      order ??= newestFirst(blocks)
      return viewOf(blocks, isEmpty(filter) ? order : chosen(blocks, order, filter))
    },
    vocabulary: () => vocabularyOf(blocks),
  }
}

class LoadedBlock {
  readonly row: Block
  private lines: string[] | undefined
  private starts: Uint32Array | undefined
  constructor(row: Block) {
    this.row = row
  }

  summary(slot: number): Summary {
    this.lines ??= this.row.lines.split('\n')
    try {
      return summaryFromLine(this.lines[slot] ?? '', this.row.flags[slot] ?? 0)
    } catch {
      // Derived data that does not parse: the reading itself may well be sound; open it.
      const seq = this.row.block * BLOCK_SIZE + slot
      return summaryOfDamaged(`row ${seq}`, this.row.takenAtMs[slot] ?? 0)
    }
  }

  /** Calls back with each slot whose digest contains the text, in rising order. */
  search(needle: string, found: (slot: number) => void): void {
    const { digests } = this.row
    let at = digests.indexOf(needle)
    if (at < 0) return
    this.starts ??= lineStarts(digests)
    let slot = 0
    while (at >= 0) {
      while (slot + 1 < this.starts.length && this.starts[slot + 1]! <= at) slot++
      found(slot)
      const next = this.starts[slot + 1]
      if (next === undefined) return
      at = digests.indexOf(needle, next)
    }
  }
}

function lineStarts(text: string): Uint32Array {
  const starts = [0]
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) starts.push(at + 1)
  return Uint32Array.from(starts)
}

function newestFirst(blocks: readonly (LoadedBlock | undefined)[]): Uint32Array {
  const times = new Float64Array(blocks.length * BLOCK_SIZE)
  const seqs = new Uint32Array(times.length)
  let count = 0
  // From the latest entry back: mostly that is the order of time already.
  for (let b = blocks.length - 1; b >= 0; b--) {
    const taken = blocks[b]?.row.takenAtMs
    if (taken === undefined) continue
    times.set(taken, b * BLOCK_SIZE)
    for (let slot = BLOCK_SIZE - 1; slot >= 0; slot--) {
      if (!Number.isNaN(taken[slot]!)) seqs[count++] = b * BLOCK_SIZE + slot
    }
  }
  return sortDescending(seqs.slice(0, count), times)
}

const isEmpty = (filter: Filter) => Object.values(filter).every((value) => value === undefined)

function chosen(
  blocks: readonly (LoadedBlock | undefined)[],
  order: Uint32Array,
  filter: Filter,
): Uint32Array {
  const needles = needlesOf(filter)
  const fits = numbersFit(filter)
  /** How many of the needles each reading has. */
  const hits = new Uint8Array(blocks.length * BLOCK_SIZE)
  for (const [n, needle] of needles.entries()) {
    blocks.forEach((block, b) => {
      block?.search(needle, (slot) => {
        const seq = b * BLOCK_SIZE + slot
        if (hits[seq] === n) hits[seq] = n + 1
      })
    })
  }
  const found = new Uint32Array(order.length)
  let count = 0
  for (const seq of order) {
    if (hits[seq] !== needles.length) continue
    if (fits(blocks[blockOf(seq)]!.row, slotOf(seq))) found[count++] = seq
  }
  return found.slice(0, count)
}

/** Texts that must all occur in a digest. */
export function needlesOf(filter: Filter): string[] {
  const needles = wordsOf(filter.text ?? '')
  if (filter.object !== undefined) needles.push(wholeObject(filter.object))
  if (filter.material !== undefined) needles.push(wholeMaterial(filter.material))
  if (filter.tag !== undefined) needles.push(wholeTag(filter.tag))
  if (filter.series !== undefined) needles.push(wholeSeries(filter.series))
  // Counted in a byte; more words than this narrow nothing further that anyone would type.
  return needles.slice(0, 255)
}

function numbersFit(filter: Filter): (row: Block, slot: number) => boolean {
  const { fromMs = -Infinity, toMs = Infinity, fromK, toK } = filter
  const byTemperature = fromK !== undefined || toK !== undefined
  const coldest = fromK ?? -Infinity
  const hottest = toK ?? Infinity
  let mask = 0
  let wanted = 0
  const want = (bit: number, value: boolean | undefined) => {
    if (value === undefined) return
    mask |= bit
    if (value) wanted |= bit
  }
  want(SIMULATED, filter.simulated)
  want(DEMO, filter.demo)
  want(DAMAGED, filter.damaged)
  const methods = filter.methods?.map((name) => METHODS.indexOf(name))
  return ({ takenAtMs, temperatureK, flags }, slot) => {
    const taken = takenAtMs[slot]!
    if (!(taken >= fromMs && taken <= toMs)) return false
    const bits = flags[slot]!
    if ((bits & mask) !== wanted) return false
    if (methods !== undefined && !methods.includes(bits & METHOD_BITS)) return false
    if (!byTemperature) return true
    const t = temperatureK[slot]!
    return t >= coldest && t <= hottest
  }
}

function viewOf(blocks: readonly (LoadedBlock | undefined)[], seqs: Uint32Array): LogView {
  const at = (position: number): Summary => {
    const seq = seqs[position]
    if (seq === undefined) throw new RangeError(`position ${position} of ${seqs.length}`)
    return blocks[blockOf(seq)]!.summary(slotOf(seq))
  }
  const summaries = (from = 0, to = seqs.length) =>
    Array.from(seqs.subarray(from, to), (_, i) => at(from + i))
  return {
    count: seqs.length,
    at,
    summaries,
    ids: (from, to) => summaries(from, to).map((summary) => summary.id),
  }
}

async function vocabularyOf(blocks: readonly (LoadedBlock | undefined)[]): Promise<Vocabulary> {
  const objects = new Map<string, number>()
  const materials = new Map<string, number>()
  const tags = new Map<string, number>()
  const count = (map: Map<string, number>, text: string) => {
    if (text !== '') map.set(text, (map.get(text) ?? 0) + 1)
  }
  const yieldToMain = mainYielder()
  for (const block of blocks) {
    if (block === undefined) continue
    await yieldToMain()
    for (let slot = 0; slot < BLOCK_SIZE; slot++) {
      if (Number.isNaN(block.row.takenAtMs[slot]!)) continue
      const summary = block.summary(slot)
      count(objects, summary.object)
      count(materials, summary.material)
      for (const tag of summary.tags) count(tags, tag)
    }
  }
  const terms = (map: Map<string, number>): Term[] =>
    [...map]
      .map(([text, n]) => ({ text, count: n }))
      .sort((a, b) => b.count - a.count || (a.text < b.text ? -1 : 1))
  return { objects: terms(objects), materials: terms(materials), tags: terms(tags) }
}
