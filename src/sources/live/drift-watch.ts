/** Looks that begin the watch, and the latest ones against them. */
const DRIFT_LOOKS = 6
/** Change of ln(G/R) or ln(B/R) of the surroundings that a locked balance does not make. */
const DRIFT_COLOUR = 0.06
/**
 * Change of ln(G/R) and ln(B/R) of a glow over that of its ln R when its temperature changes
 * (Wien, at 550 and 450 against 650 nm): what the glow lights cools with it.
 */
const GLOW_LIT = [650 / 550 - 1, 650 / 450 - 1] as const

/** ln(G/R), ln(B/R) and ln R of what does not glow. */
type Surroundings = readonly [number, number, number]

/**
 * Watches whether a locked picture stands still. White balance at work changes the colour of what
 * does not glow; so does a glow that lights its surroundings and cools, but that darkens them too, by
 * much more. What lies between no such light and nothing but such light is no drift. Where exposure
 * moves as well the two cannot be told apart, and it counts as drift.
 *
 * Compares with the first looks, so that a slow drift adds up; clear it when the view changes.
 */
export class DriftWatch {
  readonly #first: Surroundings[] = []
  readonly #latest: Surroundings[] = []

  add(seen: Surroundings): void {
    if (!seen.every(Number.isFinite)) return
    if (this.#first.length < DRIFT_LOOKS) {
      this.#first.push(seen)
      return
    }
    this.#latest.push(seen)
    if (this.#latest.length > DRIFT_LOOKS) this.#latest.shift()
  }

  /** Whether the surroundings have changed colour since the watch began. */
  drifts(): boolean {
    if (this.#latest.length < DRIFT_LOOKS) return false
    const mean = (part: readonly Surroundings[], c: 0 | 1 | 2) =>
      part.reduce((sum, v) => sum + v[c], 0) / part.length
    const change = (c: 0 | 1 | 2) => mean(this.#latest, c) - mean(this.#first, c)
    const darker = change(2)
    return ([0, 1] as const).some((c) => {
      const byGlow = GLOW_LIT[c] * darker
      const [least, most] = [Math.min(byGlow, 0), Math.max(byGlow, 0)]
      const beyond = Math.max(least - change(c), change(c) - most)
      return beyond > DRIFT_COLOUR
    })
  }

  clear(): void {
    this.#first.length = 0
    this.#latest.length = 0
  }
}
