import { useMemo, useState } from 'preact/hooks'
import type { Xy } from '../colour/chromaticity.ts'
import { COVERAGE_95_PLANE, covarianceEllipse } from '../colour/ellipse.ts'
import { planckianXy } from '../colour/planckian-locus.ts'
import type { EyeView } from '../estimate/types.ts'
import css from './chromaticity-diagram.module.css'
import { isothermXy, locusPoints, spectralLocus } from './chromaticity-plane.ts'
import { showTemperature } from './temperature.ts'

const ISOTHERMS_K = [1000, 1200, 1500, 2000, 2500, 3000, 4000, 6500]
/** Units a side of the drawing per unit of x or y. */
const SCALE = 1000

const px = ({ x }: Xy) => x * SCALE
const py = ({ y }: Xy) => (0.9 - y) * SCALE
const path = (points: readonly Xy[]) =>
  points.map((p, i) => `${i ? 'L' : 'M'}${px(p).toFixed(1)} ${py(p).toFixed(1)}`).join('')

/** A place just past the end of an isotherm, so that its label lies on no line. */
function beyond(end: Xy, from: Xy, text: number): { x: number; y: number } {
  const dx = px(end) - px(from)
  const dy = py(end) - py(from)
  const length = Math.hypot(dx, dy)
  return {
    x: px(end) + (dx / length) * text * 2,
    y: py(end) + (dy / length) * text * 1.2 + text * 0.35,
  }
}

const WHOLE = { x: -60, y: 40, width: 895, height: 920 }
const NEAR_SIDE = 0.16

/** CIE 1931 x, y with the spectral colours, the Planckian locus, isotherms, and the reading. */
export function ChromaticityDiagram({ eye }: { eye: EyeView }) {
  const [near, setNear] = useState(false)
  const curves = useMemo(
    () => ({
      horseshoe: `${path(spectralLocus())}Z`,
      locus: path(locusPoints(700, 20000, 80)),
      isotherms: ISOTHERMS_K.map((temperatureK) => ({
        temperatureK,
        ends: isothermXy(temperatureK, 0.02),
        at: planckianXy(temperatureK),
      })),
    }),
    [],
  )
  const [a, b, c, d] = eye.covarianceXy
  const ellipse = covarianceEllipse([
    [a, b],
    [c, d],
  ])
  const view = near
    ? {
        x: (eye.x - NEAR_SIDE / 2) * SCALE,
        y: (0.9 - eye.y - NEAR_SIDE / 2) * SCALE,
        width: NEAR_SIDE * SCALE,
        height: NEAR_SIDE * SCALE,
      }
    : WHOLE
  const text = view.width / 28
  const ticks = near ? [] : [0, 0.2, 0.4, 0.6, 0.8]
  return (
    <figure class={css.chromaticity}>
      <svg
        viewBox={`${view.x} ${view.y} ${view.width} ${view.height}`}
        role="img"
        aria-label={`Chromaticity diagram: the reading at x ${eye.x.toFixed(3)}, y ${eye.y.toFixed(3)}, with the Planckian locus`}
      >
        {ticks.map((t) => (
          <g key={t} class={css.grid}>
            <path d={`M${t * SCALE} 900V60M0 ${(0.9 - t) * SCALE}H780`} />
            <text x={t * SCALE} y={900 + text * 1.4} font-size={text} text-anchor="middle">
              {t === 0 ? '' : t}
            </text>
            <text
              x={-text * 0.4}
              y={(0.9 - t) * SCALE + text * 0.35}
              font-size={text}
              text-anchor="end"
            >
              {t}
            </text>
          </g>
        ))}
        <path class={css.horseshoe} d={curves.horseshoe} />
        <path class={css.locus} d={curves.locus} />
        {curves.isotherms.map(({ temperatureK, ends, at }) => (
          <g key={temperatureK} class={css.isotherm}>
            <path d={path(ends)} />
            {(near || temperatureK === 1000 || temperatureK === 2000 || temperatureK === 6500) && (
              <text {...beyond(ends[0], at, text)} font-size={text} text-anchor="middle">
                {showTemperature(temperatureK)}
              </text>
            )}
            <circle cx={px(at)} cy={py(at)} r={view.width / 300} />
          </g>
        ))}
        <ellipse
          class={css.spread}
          cx={px(eye)}
          cy={py(eye)}
          rx={ellipse.major * COVERAGE_95_PLANE * SCALE}
          ry={ellipse.minor * COVERAGE_95_PLANE * SCALE}
          transform={`rotate(${(-ellipse.angle * 180) / Math.PI} ${px(eye)} ${py(eye)})`}
        />
        <path
          class={css.here}
          d={`M${px(eye) - text} ${py(eye)}h${text * 2}M${px(eye)} ${py(eye) - text}v${text * 2}`}
        />
        {!near && (
          <g class="names" font-size={text}>
            <text x="745" y={900 - text * 0.5} text-anchor="end">
              x
            </text>
            <text x={text * 0.5} y={60 + text}>
              y
            </text>
          </g>
        )}
      </svg>
      <button type="button" onClick={() => setNear(!near)}>
        {near ? 'Whole diagram' : 'Near the reading'}
      </button>
    </figure>
  )
}
