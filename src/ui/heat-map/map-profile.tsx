import { useMemo } from 'preact/hooks'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import {
  cellCentre,
  type Point,
  type Profile,
  profileAlong,
  soak,
} from '../../estimate/map/profile.ts'
import { temperatureInUnit } from '../../physics/units.ts'
import { NumberField } from '../number-field.tsx'
import { Plot } from '../plots/plot.tsx'
import type { PlotData } from '../plots/plot-types.ts'
import { temperatureUnit, UNIT_SYMBOLS } from '../temperature.ts'
import { soakSentence } from '../words/heat-map.ts'

/** Temperature along a line over the map. */
export function MapProfile({
  map,
  path,
  lengthMm,
  onLength,
}: {
  map: HeatMap
  path: readonly Point[]
  /** How long the line is on the piece; null: not said. */
  lengthMm: number | null
  onLength: (millimetres: number | null) => void
}) {
  const unit = temperatureUnit.value
  const profile = useMemo(() => profileAlong(map, path), [map, path])
  const data = useMemo(() => plotOf(profile, lengthMm), [profile, lengthMm, unit])
  const soaked = soak(map, profile)
  return (
    <>
      <p class="small soft">Tap to move the nearer end.</p>
      {data ? (
        <Plot data={data} height={200} fileName="heat-along-line" tools={false} />
      ) : (
        <p>Nothing can be read along this line.</p>
      )}
      {soaked && <p>{soakSentence(soaked.differenceK, soaked.standardUncertaintyK)}</p>}
      <NumberField
        label="Length of the line, mm"
        value={lengthMm}
        min={1}
        max={100_000}
        onValue={onLength}
      />
    </>
  )
}

function plotOf({ along, temperatureK, ownK }: Profile, lengthMm: number | null): PlotData | null {
  const unit = temperatureUnit.value
  const seen = along.map((_, i) => i).filter((i) => Number.isFinite(temperatureK[i]!))
  if (seen.length < 2) return null
  const scale = lengthMm === null ? 1 : lengthMm / along.at(-1)!
  const to = (kelvin: number) => temperatureInUnit(kelvin, unit)
  return {
    title: 'Temperature along the line',
    x: { label: lengthMm === null ? 'Along, pixels' : 'Along, mm' },
    y: { label: `Temperature, ${UNIT_SYMBOLS[unit]}` },
    series: [
      {
        label: 'Along the line, ± between places',
        kind: 'line',
        colour: 'cool',
        x: seen.map((i) => along[i]! * scale),
        y: seen.map((i) => to(temperatureK[i]!)),
        band: {
          low: seen.map((i) => to(temperatureK[i]! - 2 * ownK[i]!)),
          high: seen.map((i) => to(temperatureK[i]! + 2 * ownK[i]!)),
        },
      },
    ],
  }
}

/** From one end of what was read to the other, along its longer axis. */
export function mainLine(map: HeatMap): readonly Point[] {
  const points: Point[] = []
  for (let at = 0; at < map.temperatureK.length; at++)
    if (Number.isFinite(map.temperatureK[at]!)) points.push(cellCentre(map, at))
  const mean = (of: (p: Point) => number) => points.reduce((s, p) => s + of(p), 0) / points.length
  const [mx, my] = [mean(({ x }) => x), mean(({ y }) => y)]
  const xx = mean(({ x }) => (x - mx) ** 2)
  const yy = mean(({ y }) => (y - my) ** 2)
  const xy = mean(({ x, y }) => (x - mx) * (y - my))
  const angle = Math.atan2(2 * xy, xx - yy) / 2
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  const along = points.map(({ x, y }) => (x - mx) * c + (y - my) * s)
  const ends = [along.reduce((a, b) => Math.min(a, b)), along.reduce((a, b) => Math.max(a, b))]
  return ends.map((end) => ({ x: mx + end * c, y: my + end * s }))
}
