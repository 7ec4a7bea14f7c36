import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import {
  allDayDistanceM,
  type GlowingPiece,
  heatAtDistance,
  infraredExitance,
  infraredShade,
} from '../../physics/heat-exposure.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { useServices } from '../../session/services.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { spanWords } from '../../ui/words/safety-names.ts'
import { CONTEXT_CAUTIONS } from '../../ui/words/safety-statements.data.ts'
import css from './safety.module.css'

/** Midday sun, W/m²; common practice. */
const SUN_WM2 = 1000
const DISTANCES_M = [0.3, 0.5, 1, 2] as const

/** How near, how long: exposure of eye and skin against the published limits. */
export function DistanceScreen() {
  const { log } = useServices()
  const temperatureK = useSignal<number | null>(1173.15)
  const emissivity = useSignal<number | null>(0.8)
  const widthMm = useSignal<number | null>(30)
  const heightMm = useSignal<number | null>(300)
  const distanceM = useSignal<number | null>(0.5)
  const from = useSignal<string | null>(null)
  useEffect(() => {
    log
      .then((opened) => opened.newest(20))
      .then((found) => {
        const last = found.find(({ kind }) => kind === 'temperature')
        if (!last?.temperatureK) return
        // The upper end: for planning, hotter is the careful side.
        temperatureK.value = last.interval95K?.[1] ?? last.temperatureK
        from.value = last.object
      })
      .catch(() => undefined)
  }, [log])
  const unit = temperatureUnit.value
  const piece = pieceOf(temperatureK.value, emissivity.value, widthMm.value, heightMm.value)
  const at = piece && distanceM.value ? heatAtDistance(piece, distanceM.value) : null
  return (
    <main class="screen">
      <header>
        <a class="button" href="/safety">
          Back
        </a>
        <h1>How near, how long?</h1>
      </header>
      {piece && at && (
        <section class="card stack" aria-live="polite">
          <p class={css.verdict}>
            {at.eyeSeconds === Number.POSITIVE_INFINITY
              ? `At ${distanceM.value} m the eye’s limit is not reached in a day.`
              : `At ${distanceM.value} m the eye’s limit is reached in about ${spanWords(at.eyeSeconds)}.`}
          </p>
          <p>
            All day only beyond{' '}
            {allDayDistanceM(piece).toFixed(allDayDistanceM(piece) < 10 ? 2 : 0)} m.
          </p>
          <p>
            {at.skinSeconds === null
              ? 'Skin: below the limit published for 10 s. Heat that hurts is too near.'
              : `Bare skin: ${spanWords(at.skinSeconds)}.`}
          </p>
          <p>
            {infraredShade(piece.temperatureK)
              ? `Lens shade by EN 171: ${infraredShade(piece.temperatureK)}.`
              : 'Hotter than any filter of EN 171 is meant for.'}
          </p>
          <p>
            A phone there gets {sunWords(at.totalWm2)}. {CONTEXT_CAUTIONS['live camera'].why}
          </p>
        </section>
      )}
      <NumberField
        label={`Temperature, ${UNIT_SYMBOLS[unit]}`}
        value={
          temperatureK.value === null
            ? null
            : Math.round(temperatureInUnit(temperatureK.value, unit))
        }
        min={temperatureInUnit(700, unit)}
        max={temperatureInUnit(3700, unit)}
        onValue={(value) => {
          temperatureK.value = value === null ? null : temperatureFromUnit(value, unit)
        }}
      />
      {from.value !== null && (
        <p class="small soft">
          From the last reading{from.value && ` (${from.value})`}, at its upper end.
        </p>
      )}
      <div class="two-up">
        <NumberField
          label="Glowing width, mm"
          value={widthMm.value}
          min={0.1}
          max={5000}
          onValue={set(widthMm)}
        />
        <NumberField
          label="Glowing height, mm"
          value={heightMm.value}
          min={0.1}
          max={5000}
          onValue={set(heightMm)}
        />
        <NumberField
          label="Distance, m"
          value={distanceM.value}
          min={0.05}
          max={50}
          onValue={set(distanceM)}
        />
        <NumberField
          label="Emissivity, total"
          value={emissivity.value}
          min={0.02}
          max={1}
          onValue={set(emissivity)}
        />
      </div>
      {piece && (
        <table class="numbers-table">
          <thead>
            <tr>
              <th>Distance</th>
              <th>Infrared at the eye</th>
              <th>Limit in</th>
            </tr>
          </thead>
          <tbody>
            {DISTANCES_M.map((metres) => {
              const { eyeWm2, eyeSeconds } = heatAtDistance(piece, metres)
              return (
                <tr key={metres}>
                  <th scope="row">{metres} m</th>
                  <td>{Math.round(eyeWm2)} W/m²</td>
                  <td>
                    {eyeSeconds === Number.POSITIVE_INFINITY ? 'all day' : spanWords(eyeSeconds)}
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      )}
      <p class="small soft">
        {piece && <ExitanceLine temperatureK={piece.temperatureK} />}
        780 to 3000 nm by Planck’s law, taken as a small source that faces you: never too little.
        Limits: ICNIRP 2013, IEC 62471, EN 14255-2. An aid for planning, not an assessment of a
        workplace; ultraviolet of quartz lamps and flames is not counted.
      </p>
    </main>
  )
}

function ExitanceLine({ temperatureK }: { temperatureK: number }) {
  const { totalWm2, eyeShare } = infraredExitance(temperatureK)
  return (
    <>
      At emissivity 1 the surface sends {Number((totalWm2 / 1000).toPrecision(4))} kW/m²,{' '}
      {(100 * eyeShare).toFixed(1)} % of it from 780 to 3000 nm.{' '}
    </>
  )
}

const set = (of: { value: number | null }) => (value: number | null) => {
  of.value = value
}

function pieceOf(
  temperatureK: number | null,
  emissivity: number | null,
  widthMm: number | null,
  heightMm: number | null,
): GlowingPiece | null {
  if (!temperatureK || !emissivity || !widthMm || !heightMm) return null
  return { temperatureK, emissivity, areaM2: (widthMm / 1000) * (heightMm / 1000) }
}

function sunWords(wm2: number): string {
  const suns = wm2 / SUN_WM2
  if (suns < 0.1) return 'less than a tenth of midday sun'
  if (suns >= 0.95 && suns < 1.05) return 'as much as midday sun gives'
  return `${Number(suns.toPrecision(suns < 1 ? 1 : 2))} times midday sun`
}
