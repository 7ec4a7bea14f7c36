/** Tone curves that simulated cameras put on their photos; acts on linear light 0..1. */
import type { Triple } from '../../src/numerics/matrix3.ts'
import type { Random } from './random.ts'

export interface CameraCurve {
  readonly kind: 'channel' | 'ratio'
  /** Linear light to what the nominal decoding makes of the stored code, 0 to 0, 1 to 1. */
  readonly bend: (light: number) => number
}

export type CurveFamily = 'contrast' | 'wave'

/** Applies a curve to one pixel. */
export function throughCurve({ kind, bend }: CameraCurve, rgb: Triple): Triple {
  const light: Triple = [Math.max(rgb[0], 0), Math.max(rgb[1], 0), Math.max(rgb[2], 0)]
  if (kind === 'channel') return [bend(light[0]), bend(light[1]), bend(light[2])]
  const top = Math.max(...light)
  if (!(top > 0)) return light
  const scale = bend(top) / top
  return [light[0] * scale, light[1] * scale, light[2] * scale]
}

const MID_GREY = 0.18
const LN_CONTRAST_SD = 0.12
const LARGEST_SHOULDER = 0.5
const WAVE_SD = 0.12

/**
 * A curve drawn at random, half of them of each kind.
 * `contrast`: exponent about mid-grey with ln contrast normal, sd 0.12, and a soft shoulder.
 * `wave`: an S on the stored codes, code + a sin(2 pi code) / (2 pi), a normal with sd 0.12 (positive
 * a is more contrast); no prior was made for it.
 */
export function drawCurve(family: CurveFamily, random: Random): CameraCurve {
  const kind = random.uniform() < 0.5 ? 'ratio' : 'channel'
  if (family === 'contrast') {
    const contrast = Math.exp(LN_CONTRAST_SD * random.normal())
    const shoulder = LARGEST_SHOULDER * random.uniform()
    const raised = (light: number) => MID_GREY * (light / MID_GREY) ** contrast
    const white = raised(1)
    const rolled = (light: number) => (light * (1 + shoulder)) / (1 + shoulder * light)
    return { kind, bend: (light) => rolled(raised(light) / white) }
  }
  const a = -WAVE_SD * random.normal()
  const gamma = 2.2
  return {
    kind,
    bend: (light) => {
      const code = light ** (1 / gamma)
      return Math.max(code + (a * Math.sin(2 * Math.PI * code)) / (2 * Math.PI), 0) ** gamma
    },
  }
}
