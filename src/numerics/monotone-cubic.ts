/** A smooth curve through the rows of a table, and its inverse. */
export interface TableCurve {
  /** First and last abscissa of the table. */
  readonly range: readonly [number, number]
  /** Value at x; beyond the ends the curve goes on as a straight line with its end slope. */
  value(x: number): number
  /** First derivative at x. */
  slope(x: number): number
  /** The x with this value; only for tables that rise throughout (else it throws). Beyond the ends
   * along the straight line; infinite where that line is level. */
  inverse(y: number): number
}

/**
 * Monotone cubic interpolation: passes through every row, has a continuous slope and never
 * overshoots, so a table that rises has a curve that rises and one inverse.
 *
 * @param rows [x, y] in rising order of x, at least three
 * Source: Steffen, Astron. Astrophys. 239 (1990) 443, eq. 2-11 (end slopes eq. 24-27).
 */
export function monotoneCubic(rows: readonly (readonly [number, number])[]): TableCurve {
  const n = rows.length
  if (n < 3) throw new RangeError(`monotoneCubic: ${n} rows, at least 3 needed`)
  const x = rows.map((row) => row[0])
  const y = rows.map((row) => row[1])
  const h = x.slice(1).map((next, i) => next - x[i]!)
  const s = y.slice(1).map((next, i) => (next - y[i]!) / h[i]!)
  if (!h.every((step) => step > 0)) throw new RangeError('monotoneCubic: x must rise')
  const rises = s.every((secant) => secant > 0)

  const limited = (p: number, a: number, b: number): number =>
    (Math.sign(a) + Math.sign(b)) * Math.min(Math.abs(a), Math.abs(b), Math.abs(p) / 2)
  const endSlope = (h0: number, h1: number, s0: number, s1: number): number => {
    const p = s0 * (1 + h0 / (h0 + h1)) - (s1 * h0) / (h0 + h1)
    if (p * s0 <= 0) return 0
    return Math.abs(p) > 2 * Math.abs(s0) ? 2 * s0 : p
  }
  const d = x.map((_, i) => {
    if (i === 0) return endSlope(h[0]!, h[1]!, s[0]!, s[1]!)
    if (i === n - 1) return endSlope(h[n - 2]!, h[n - 3]!, s[n - 2]!, s[n - 3]!)
    const p = (s[i - 1]! * h[i]! + s[i]! * h[i - 1]!) / (h[i - 1]! + h[i]!)
    return limited(p, s[i - 1]!, s[i]!)
  })

  const segment = (values: readonly number[], v: number): number => {
    let low = 0
    let high = n - 1
    while (high - low > 1) {
      const middle = (low + high) >> 1
      if (values[middle]! <= v) low = middle
      else high = middle
    }
    return low
  }
  const evaluate = (at: number): readonly [number, number] => {
    if (at <= x[0]!) return [y[0]! + d[0]! * (at - x[0]!), d[0]!]
    if (at >= x[n - 1]!) return [y[n - 1]! + d[n - 1]! * (at - x[n - 1]!), d[n - 1]!]
    const i = segment(x, at)
    const t = at - x[i]!
    const a = (d[i]! + d[i + 1]! - 2 * s[i]!) / h[i]! ** 2
    const b = (3 * s[i]! - 2 * d[i]! - d[i + 1]!) / h[i]!
    return [((a * t + b) * t + d[i]!) * t + y[i]!, (3 * a * t + 2 * b) * t + d[i]!]
  }

  return {
    range: [x[0]!, x[n - 1]!],
    value: (at) => evaluate(at)[0],
    slope: (at) => evaluate(at)[1],
    inverse(target) {
      if (!rises) throw new RangeError('monotoneCubic: a table that does not rise has no inverse')
      if (target === y[0]) return x[0]!
      if (target === y[n - 1]) return x[n - 1]!
      if (target < y[0]!) return x[0]! + (target - y[0]!) / d[0]!
      if (target > y[n - 1]!) return x[n - 1]! + (target - y[n - 1]!) / d[n - 1]!
      const i = segment(y, target)
      let low = x[i]!
      let high = x[i + 1]!
      let at = low + (target - y[i]!) / s[i]!
      for (let k = 0; k < 60; k++) {
        const [value, slope] = evaluate(at)
        if (value > target) high = at
        else low = at
        const newton = at - (value - target) / slope
        const next = newton > low && newton < high ? newton : (low + high) / 2
        if (Math.abs(next - at) <= 1e-14 * Math.abs(at)) return next
        at = next
      }
      return at
    },
  }
}
