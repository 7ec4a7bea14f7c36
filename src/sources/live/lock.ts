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

export type BalanceLock = Pick<Locks, 'whiteBalance' | 'colourTemperatureK'>

const DAYLIGHT_K = 6500

/**
 * Locks exposure, white balance and focus as far as the camera offers it, one control at a time,
 * and reads the settings back: what a camera says it can do and what it does are two things.
 */
export async function lockCamera(camera: LiveCamera): Promise<Locks> {
  const ranges = camera.capabilities()
  if (ranges.torch) await attempt(camera, 'torch', false)
  const exposure = await lockMode(camera, ranges, 'exposureMode')
  // The least gain: a glow is bright enough, and noise comes with it.
  if (exposure === 'locked' && isRange(ranges.iso)) await attempt(camera, 'iso', ranges.iso.min)
  const balance = await lockWhiteBalance(camera)
  const focus = await lockMode(camera, ranges, 'focusMode')
  return { exposure, focus, ...balance }
}

/** White balance alone, on daylight where it can be said: see {@link lockCamera}. */
export async function lockWhiteBalance(camera: LiveCamera): Promise<BalanceLock> {
  const ranges = camera.capabilities()
  const whiteBalance = await lockMode(camera, ranges, 'whiteBalanceMode')
  if (whiteBalance === 'locked' && isRange(ranges.colorTemperature)) {
    const { min, max } = ranges.colorTemperature
    await attempt(camera, 'colorTemperature', Math.min(Math.max(DAYLIGHT_K, min), max))
  }
  const kelvin = camera.settings().colorTemperature
  return {
    whiteBalance,
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
