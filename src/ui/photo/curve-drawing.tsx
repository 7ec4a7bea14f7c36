import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import { lightFromCode, type ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import css from './curve-drawing.module.css'

const WIDTH = 300
const HEIGHT = 200
const MARGIN = 34
/** Stops of light that are drawn. */
const STOPS = 10

const x = (light: number) =>
  MARGIN + (WIDTH - MARGIN - 8) * Math.min(1, Math.max(0, 1 + Math.log2(light) / STOPS))
const y = (code: number) => 8 + (HEIGHT - MARGIN - 8) * (1 - code)

const path = (light: (code: number) => number) =>
  Array.from({ length: 100 }, (_, i) => (i + 1) / 100)
    .filter((code) => light(code) > 2 ** -STOPS)
    .map((code, i) => `${i ? 'L' : 'M'}${x(light(code)).toFixed(1)} ${y(code).toFixed(1)}`)
    .join('')

/** Code over light: the curve as it was recovered, beside the one that the file's space names. */
export function CurveDrawing({ curve }: { curve: ToneCurve }) {
  return (
    <figure class={css.curve}>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label="Recovered tone curve: stored code over light"
      >
        <path class={css.axis} d={`M${MARGIN} 8V${HEIGHT - MARGIN}H${WIDTH - 8}`} />
        {[0, 64, 128, 192, 255].map((code) => (
          <text key={code} x={MARGIN - 5} y={y(code / 255) + 4} text-anchor="end">
            {code}
          </text>
        ))}
        {[-8, -6, -4, -2, 0].map((stop) => (
          <text key={stop} x={x(2 ** stop)} y={HEIGHT - MARGIN + 16} text-anchor="middle">
            {stop === 0 ? '0' : `−${-stop}`}
          </text>
        ))}
        <text x={WIDTH / 2} y={HEIGHT - 4} text-anchor="middle">
          light, stops below the top
        </text>
        <path class={css.nominal} d={path(decodeTransfer)} />
        <path class={css.found} d={path((code) => lightFromCode(curve, code))} />
      </svg>
      <figcaption class="small soft">
        Solid: recovered. Dashed: the curve that the colour space names.
      </figcaption>
    </figure>
  )
}
