import type { LinearColour } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

/** A colour without noise. */
export const exact = (mean: Triple): LinearColour => ({
  mean,
  covariance: [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ],
})
/** Lights on a card. */
export const LAMP = {
  kind: 'filament',
  colourTemperatureK: 2700,
  standardUncertaintyK: 50,
} as const
export const DAYLIGHT = { kind: 'daylight', illuminant: 'D65' } as const
