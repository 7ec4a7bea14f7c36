import type { Row } from './rows.ts'

/** A step this many times the usual one ends a run of rows. */
const BREAK_STEPS = 6
/** A run shorter than this is no spectrum and no part of one. */
const MIN_RUN = 3
/** When more than this share of the rows would be thrown away, the text is merely unsorted. */
const MAX_LOST_SHARE = 0.2

export interface Blocks {
  /** Rows of one spectrum (or of one set of columns) each, in the order of the text. */
  readonly blocks: readonly (readonly Row[])[]
  readonly far: readonly Row[]
}

/** Median of the steps that are not zero, in the rows' own unit; 0 when there is none. */
export function usualWavelengthStep(rows: readonly Row[]): number {
  const steps = new Float64Array(rows.length)
  for (let i = 1; i < rows.length; i++) {
    steps[i] = Math.abs(rows[i]!.numbers[0]! - rows[i - 1]!.numbers[0]!)
  }
  const moves = steps.filter((step) => step > 0).sort()
  return moves[moves.length >> 1] ?? 0
}

/**
 * Cuts rows where the wavelength starts again: one text may hold several spectra one after another.
 * A jump onwards is a gap inside a spectrum, a jump back over ground already covered is a new one.
 */
export function splitBlocks(rows: readonly Row[]): Blocks {
  const limit = BREAK_STEPS * usualWavelengthStep(rows)
  const runs: Row[][] = []
  let previous: number | null = null
  for (const row of rows) {
    const at = row.numbers[0]!
    if (previous === null || Math.abs(at - previous) > limit) runs.push([])
    runs[runs.length - 1]!.push(row)
    previous = at
  }
  const far = runs.filter((run) => run.length < MIN_RUN).flat()
  if (far.length > MAX_LOST_SHARE * rows.length) return { blocks: [rows], far: [] }

  const blocks: { rows: Row[]; low: number; high: number }[] = []
  for (const run of runs) {
    if (run.length < MIN_RUN) continue
    let low = Number.POSITIVE_INFINITY
    let high = Number.NEGATIVE_INFINITY
    for (const { numbers } of run) {
      low = Math.min(low, numbers[0]!)
      high = Math.max(high, numbers[0]!)
    }
    const last = blocks[blocks.length - 1]
    if (last && (low > last.high || high < last.low)) {
      for (const row of run) last.rows.push(row)
      last.low = Math.min(last.low, low)
      last.high = Math.max(last.high, high)
    } else {
      blocks.push({ rows: [...run], low, high })
    }
  }
  return { blocks: blocks.map((block) => block.rows), far }
}
