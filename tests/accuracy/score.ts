/** Errors and intervals of many readings, summed up at each temperature. */
export type Outcome =
  | {
      readonly kind: 'temperature'
      readonly temperatureK: number
      readonly low: number
      readonly high: number
      /** Whether anything was said that makes one doubt it. */
      readonly warned: boolean
    }
  | { readonly kind: 'below range'; readonly upperBoundK: number }
  | { readonly kind: 'no number' }

export interface ScoreRow {
  readonly temperatureK: number
  readonly rmsK: number
  readonly biasK: number
  /** Share of the stated 95 % intervals (or upper bounds) that hold the truth. */
  readonly coverage95: number
  /** Mean half width of the intervals. */
  readonly halfWidth95K: number
  /** Readings that gave an upper bound, and that gave nothing. */
  readonly bounds: number
  /** Upper bounds below the truth. */
  readonly falseBounds: number
  readonly refused: number
  /** Readings whose interval or bound misses the truth without a warning. */
  readonly silentlyWrong: number
  readonly readings: number
}

export class Score {
  private squares = 0
  private sum = 0
  private widths = 0
  private numbers = 0
  private covered = 0
  private bounds = 0
  private falseBounds = 0
  private refused = 0
  private silentlyWrong = 0

  constructor(readonly temperatureK: number) {}

  add(outcome: Outcome): void {
    const truth = this.temperatureK
    if (outcome.kind === 'no number') {
      this.refused++
      return
    }
    if (outcome.kind === 'below range') {
      this.bounds++
      if (truth <= outcome.upperBoundK) this.covered++
      else {
        this.falseBounds++
        this.silentlyWrong++
      }
      return
    }
    const error = outcome.temperatureK - truth
    this.numbers++
    this.sum += error
    this.squares += error * error
    this.widths += (outcome.high - outcome.low) / 2
    if (outcome.low <= truth && truth <= outcome.high) this.covered++
    else if (!outcome.warned) this.silentlyWrong++
  }

  row(): ScoreRow {
    const { numbers, bounds, refused } = this
    return {
      temperatureK: this.temperatureK,
      rmsK: Math.sqrt(this.squares / numbers),
      biasK: this.sum / numbers,
      coverage95: this.covered / (numbers + bounds),
      halfWidth95K: this.widths / numbers,
      bounds,
      falseBounds: this.falseBounds,
      refused,
      silentlyWrong: this.silentlyWrong,
      readings: numbers + bounds + refused,
    }
  }
}

/** Over all temperatures of a condition. */
export function pooled(rows: readonly ScoreRow[]) {
  const weight = (row: ScoreRow) => row.readings - row.refused
  const numbers = (row: ScoreRow) => row.readings - row.refused - row.bounds
  const total = (of: (row: ScoreRow) => number) => rows.reduce((sum, row) => sum + of(row), 0)
  const rmsK = Math.sqrt(total((r) => numbers(r) * r.rmsK ** 2) / total(numbers))
  const halfWidthK = total((r) => numbers(r) * r.halfWidth95K) / total(numbers)
  return {
    rmsK,
    halfWidthK,
    coverage95: total((r) => weight(r) * r.coverage95) / total(weight),
    silentShare: total((r) => r.silentlyWrong) / total(weight),
    leastCoverage95: Math.min(...rows.map((r) => r.coverage95)),
    widthOverRms: halfWidthK / rmsK,
  }
}
