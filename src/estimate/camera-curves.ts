/**
 * A camera's two ratios at the nodes of the locus, as means and loadings, and what a leaking filter
 * and vivid colours make of them. Each step keeps the coefficients before it and adds its own.
 */

import type { Triple } from '../numerics/matrix3.ts'
import type { LeakLocus, RatioLocus, StateLocus } from './camera-locus/types.ts'
import { type RatioPair, rendered, SATURATION } from './colour-rendering.ts'
import type { LeakRange } from './infrared-leak.ts'

export interface CameraCurves {
  readonly scale: StateLocus['scale']
  /** G/R and B/R (or their logarithms): one mean, one loading for each coefficient. */
  readonly green: RatioLocus
  readonly blue: RatioLocus
}

/** Values and loadings of both ratios at one node. */
interface Node {
  readonly ratios: RatioPair
  readonly loadings: readonly RatioPair[]
}

function perNode(curves: CameraCurves, change: (node: Node, i: number) => Node): CameraCurves {
  const { green, blue } = curves
  const nodes = green.mean.map((mean, i) =>
    change(
      {
        ratios: [mean, blue.mean[i]!],
        loadings: green.loadings.map((loading, k) => [loading[i]!, blue.loadings[k]![i]!]),
      },
      i,
    ),
  )
  const ratio = (c: 0 | 1): RatioLocus => ({
    mean: nodes.map(({ ratios }) => ratios[c]),
    loadings: nodes[0]!.loadings.map((_, k) => nodes.map(({ loadings }) => loadings[k]![c])),
  })
  return { scale: curves.scale, green: ratio(0), blue: ratio(1) }
}

/**
 * The curves with infrared added: (G + leak) / (R + leak) of the camera.
 *
 * New coefficients: the leak within its range, then those of its shape.
 */
export function withLeak(curves: CameraCurves, leak: LeakLocus, range: LeakRange): CameraCurves {
  const log = curves.scale === 'log'
  return perNode(curves, ({ ratios, loadings }, i) => {
    const of = (channel: RatioLocus) => range.mean * Math.exp(channel.mean[i]!)
    const red = of(leak.red)
    const added: RatioPair = [of(leak.green), of(leak.blue)]
    const own = [leak.green, leak.blue] as const
    const before = log ? both((c) => Math.exp(ratios[c])) : ratios
    const after = both((c) => (before[c] + added[c]) / (1 + red))
    /** From a change of the ratio to one of the value. */
    const unit = both((c) => (log ? 1 / after[c] : 1))
    const size = both(
      (c) => ((added[c] - after[c] * red) / (1 + red)) * (range.sd / range.mean) * unit[c],
    )
    const shapes = leak.red.loadings.map((byRed, k) =>
      both((c) => {
        const mine = added[c] * own[c].loadings[k]![i]!
        return ((mine - after[c] * red * byRed[i]!) / (1 + red)) * unit[c]
      }),
    )
    const kept = loadings.map((loading) =>
      both((c) => (loading[c] * (log ? before[c] : 1) * unit[c]) / (1 + red)),
    )
    return {
      ratios: log ? both((c) => Math.log(after[c])) : after,
      loadings: [...kept, size, ...shapes],
    }
  })
}

/** Step of the difference quotients. */
const STEP = 1e-5

/**
 * The curves (linear scale) of a camera that makes colours more vivid.
 *
 * New coefficients: saturation in linear light, saturation on encoded values.
 *
 * @param white R, G, B of the light that the picture shows as grey, on the scale of the curves
 */
export function withRendering(curves: CameraCurves, white: Triple): CameraCurves {
  const { linear, encoded } = SATURATION
  const scale: RatioPair = [white[1] / white[0], white[2] / white[0]]
  const picture = (ratios: RatioPair, l: number, e: number) => {
    const [g, b] = rendered([ratios[0] / scale[0], ratios[1] / scale[1]], l, e)
    return [g * scale[0], b * scale[1]] as const
  }
  return perNode(curves, ({ ratios, loadings }) => {
    const at = picture(ratios, linear.mean, encoded.mean)
    const difference = (to: RatioPair) => both((c) => (to[c] - at[c]) / STEP)
    const [g, b] = ratios
    const byGreen = difference(picture([g + STEP, b], linear.mean, encoded.mean))
    const byBlue = difference(picture([g, b + STEP], linear.mean, encoded.mean))
    const byLinear = difference(picture(ratios, linear.mean + STEP, encoded.mean))
    const byEncoded = difference(picture(ratios, linear.mean, encoded.mean + STEP))
    return {
      ratios: at,
      loadings: [
        ...loadings.map((l) => both((c) => byGreen[c] * l[0] + byBlue[c] * l[1])),
        both((c) => byLinear[c] * linear.sd),
        both((c) => byEncoded[c] * encoded.sd),
      ],
    }
  })
}

const both = (of: (channel: 0 | 1) => number): RatioPair => [of(0), of(1)]
