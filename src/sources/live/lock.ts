import type { ControlName, ControlRanges, ControlValue, LiveCamera } from './live-camera.ts'

/** What became of each thing that must stand still for a reading. */
export type LockState =
  | 'locked'
  /** The camera does not offer it. */
  | 'not offered'
  /** Offered, but the settings read back say otherwise. */
  | 'refused'
  /** The settings say locked, the picture drifts. */
  | 'drifts'

export interface Locks {
  readonly exposure: LockState
  readonly whiteBalance: LockState
  readonly focus: LockState
  /** Kelvin, where the camera states it. */
  readonly colourTemperatureK: number | null
}

const DAYLIGHT_K = 6500

/**
 * Locks exposure, white balance and focus as far as the camera offers it, one control at a time,
 * and reads the settings back: what a camera says it can do and what it does are two things.
 */
export async function lockCamera(camera: LiveCamera): Promise<Locks> {
  const ranges = camera.capabilities()
  if (ranges.torch) await attempt(camera, 'torch', false)
  const exposure = await lockMode(camera, ranges, 'exposureMode')
  const whiteBalance = await lockMode(camera, ranges, 'whiteBalanceMode')
  if (whiteBalance === 'locked' && isRange(ranges.colorTemperature)) {
    const { min, max } = ranges.colorTemperature
    await attempt(camera, 'colorTemperature', Math.min(Math.max(DAYLIGHT_K, min), max))
  }
  const focus = await lockMode(camera, ranges, 'focusMode')
  const kelvin = camera.settings().colorTemperature
  return {
    exposure,
    whiteBalance,
    focus,
    colourTemperatureK:
      whiteBalance === 'locked' && typeof kelvin === 'number' && kelvin > 0 ? kelvin : null,
  }
}

async function lockMode(
  camera: LiveCamera,
  ranges: ControlRanges,
  name: 'exposureMode' | 'whiteBalanceMode' | 'focusMode',
): Promise<LockState> {
  const offered = ranges[name]
  if (!Array.isArray(offered) || !offered.includes('manual')) return 'not offered'
  await attempt(camera, name, 'manual')
  return camera.settings()[name] === 'manual' ? 'locked' : 'refused'
}

async function attempt(camera: LiveCamera, name: ControlName, value: ControlValue): Promise<void> {
  try {
    await camera.apply(name, value)
  } catch {
    // Refused by the camera: the settings that are read back tell.
  }
}

export const isRange = (
  range: ControlRanges[ControlName],
): range is { readonly min: number; readonly max: number } =>
  typeof range === 'object' && 'min' in range && 'max' in range && range.max > range.min

/** Mean light of the whole picture over which colour is compared, and steps that count. */
const DRIFT_FRAMES = 20
const DRIFT_COLOUR = 0.06

/**
 * Watches whether a locked picture stands still: white balance at work moves ln(B/R) and ln(G/R) of
 * the whole picture, also of what does not glow, by steps that a glow cooling slowly does not make.
 */
export class DriftWatch {
  readonly #seen: [number, number][] = []

  /** @param greenOverRed ln(G/R) @param blueOverRed ln(B/R) of what does not glow */
  add(greenOverRed: number, blueOverRed: number): void {
    if (!Number.isFinite(greenOverRed + blueOverRed)) return
    this.#seen.push([greenOverRed, blueOverRed])
    if (this.#seen.length > DRIFT_FRAMES) this.#seen.shift()
  }

  /** Whether the surroundings changed colour since the window began. */
  drifts(): boolean {
    const n = this.#seen.length
    if (n < 8) return false
    const third = Math.floor(n / 3)
    const mean = (part: [number, number][], c: 0 | 1) =>
      part.reduce((sum, v) => sum + v[c], 0) / part.length
    const [early, late] = [this.#seen.slice(0, third), this.#seen.slice(-third)]
    return ([0, 1] as const).some((c) => Math.abs(mean(late, c) - mean(early, c)) > DRIFT_COLOUR)
  }

  clear(): void {
    this.#seen.length = 0
  }
}
