import { decodeTransfer, encodeTransfer, SRGB_FROM_P3 } from '../../colour/rgb-spaces.ts'
import { lightFromCode, type ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { RgbSpace } from '../../light/image.ts'
import { type Triple, transform } from '../../numerics/matrix3.ts'
import { linearityByCurve } from '../linearity-by-curve.ts'
import type { GlowInput, Linearity } from '../types.ts'
import type { LinearityAt, MapColour } from './heat-scale.ts'

/**
 * How the light of other places of the same picture came about: by the same tone curve at another level.
 *
 * @param curve that the picture was decoded by; null: the nominal one
 */
export function linearityAt(input: GlowInput, curve: ToneCurve | null): LinearityAt {
  const { linearity, glow } = input
  const blue = glow.mean[2] / glow.mean[0]
  const linear = ({ lnRatio, lnRed }: MapColour, space: RgbSpace): Triple => {
    const red = Math.exp(lnRed)
    const p3: Triple = [red, red * Math.exp(lnRatio), red * blue]
    return space === 'srgb' ? transform(SRGB_FROM_P3, p3) : p3
  }
  if (linearity.kind === 'single') {
    const { space } = linearity
    return (colour) => {
      const [r, g, b] = linear(colour, space)
      return { ...linearity, storedLevels: [codeOf(r), codeOf(g), codeOf(b)] }
    }
  }
  if (linearity.kind !== 'sweep' || curve === null) return () => linearity
  return (colour): Linearity => {
    const light = linear(colour, curve.space)
    const by = linearityByCurve(curve, linearity.curveId, codesByCurve(curve, light), 0)
    return { ...by, ...(linearity.ownUncertainty && { ownUncertainty: linearity.ownUncertainty }) }
  }
}

/** An 8-bit code at least: no place that is read is darker. */
const LEAST_CODE = 1 / 255
const codeOf = (light: number) =>
  Math.min(Math.max(encodeTransfer(Math.max(light, 0)), LEAST_CODE), 1)

const HALVINGS = 24

/** Codes of a light; a curve that keeps ratios is followed by the brightest channel. */
function codesByCurve(curve: ToneCurve, light: Triple): Triple {
  const inverse = (wanted: number) => {
    let [low, high] = [LEAST_CODE, 1]
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (low + high) / 2
      if (lightFromCode(curve, middle) < wanted) low = middle
      else high = middle
    }
    return (low + high) / 2
  }
  if (curve.kind === 'channel') return [inverse(light[0]), inverse(light[1]), inverse(light[2])]
  const top = Math.max(...light)
  const nominal = decodeTransfer(inverse(top))
  const share = (v: number) => codeOf((v / top) * nominal)
  return [share(light[0]), share(light[1]), share(light[2])]
}
