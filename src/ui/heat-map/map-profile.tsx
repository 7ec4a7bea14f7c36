import { useMemo } from 'preact/hooks'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import { type Profile, profileAlong, soak } from '../../estimate/map/profile.ts'
import { compareProfiles } from '../../estimate/map/profile-pair.ts'
import { temperatureInUnit } from '../../physics/units.ts'
import { NumberField } from '../number-field.tsx'
import { Plot } from '../plots/plot.tsx'
import type { PlotData } from '../plots/plot-types.ts'
import { Segments } from '../segments.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../temperature.ts'
import { LINE_WORDS, pairSentences, soakSentence } from '../words/map-lines.ts'
import css from './heat-map.module.css'
import {
  lineBeside,
  lineLength,
  type MapLine,
  MOST_CORNERS,
  nextCorner,
  withCorner,
  withoutCorner,
} from './map-lines.ts'

export const LETTERS = ['A', 'B'] as const
const COLOURS = ['cool', 'ember'] as const

/** Lines over the map that are drawn, and which of them is worked on. */
export interface LinesInHand {
  readonly lines: readonly MapLine[]
  readonly chosen: number
}

/** Temperature along one line over the map, or along two that are compared. */
export function MapProfile({
  map,
  inHand: { lines, chosen },
  onLines,
  lengthMm,
  onLength,
  note,
}: {
  map: HeatMap
  inHand: LinesInHand
  onLines: (next: LinesInHand) => void
  /** How long line A is on the piece; null: not said. */
  lengthMm: number | null
  onLength: (millimetres: number | null) => void
  note: string
}) {
  const unit = temperatureUnit.value
  const profiles = useMemo(() => lines.map(({ points }) => profileAlong(map, points)), [map, lines])
  const scale = lengthMm === null ? null : lengthMm / Math.max(lineLength(lines[0]!), 1)
  const data = useMemo(() => plotOf(profiles, scale), [profiles, scale, unit])
  const [a, b] = profiles
  const pair = useMemo(() => (a && b ? compareProfiles(map, a, b) : null), [map, a, b])
  const line = lines[chosen]!
  const change = (next: MapLine) =>
    onLines({ lines: lines.map((one, i) => (i === chosen ? next : one)), chosen })
  const two = lines.length > 1
  return (
    <>
      <p class="small soft">{LINE_WORDS.how}</p>
      <div class="row tight">
        <button
          type="button"
          class="grow"
          disabled={line.points.length >= MOST_CORNERS}
          onClick={() => change(withCorner(line))}
        >
          {LINE_WORDS.addCorner}
        </button>
        <button
          type="button"
          class="grow"
          aria-label={LINE_WORDS.removeLong}
          disabled={line.points.length < 3}
          onClick={() => change(withoutCorner(line))}
        >
          {LINE_WORDS.removeCorner}
        </button>
        <button
          type="button"
          class="grow"
          aria-label={LINE_WORDS.nextLong}
          onClick={() => change(nextCorner(line))}
        >
          {LINE_WORDS.nextCorner}
        </button>
      </div>
      {two && (
        <Segments
          of={LETTERS.map((letter) => [letter, `Line ${letter}`] as const)}
          chosen={LETTERS[chosen]!}
          onChoose={(letter) => onLines({ lines, chosen: LETTERS.indexOf(letter) })}
        />
      )}
      {data ? (
        <Plot data={data} height={220} fileName="heat-along-line" note={note} />
      ) : (
        <p>{LINE_WORDS.nothing}</p>
      )}
      <ul class={css.list}>
        {profiles.map((profile, i) => {
          const found = soak(map, profile)
          const letter = two ? LETTERS[i]! : null
          return found && <li key={letter}>{soakSentence(found, letter)}</li>
        })}
        {pair && pairSentences(pair).map((sentence) => <li key={sentence}>{sentence}</li>)}
        {two && !pair && <li>{LINE_WORDS.nothingInCommon}</li>}
      </ul>
      <button
        type="button"
        onClick={() =>
          onLines(
            two
              ? { lines: lines.slice(0, 1), chosen: 0 }
              : { lines: [...lines, lineBeside(lines[0]!, map)], chosen: 1 },
          )
        }
      >
        {two ? LINE_WORDS.removeSecond : LINE_WORDS.addSecond}
      </button>
      <NumberField
        label={two ? 'Length of line A, mm' : 'Length of the line, mm'}
        value={lengthMm}
        min={1}
        max={100_000}
        onValue={onLength}
      />
    </>
  )
}

/** @param millimetres a pixel; null: not said */
function plotOf(profiles: readonly Profile[], millimetres: number | null): PlotData | null {
  const unit = temperatureUnit.value
  const to = (kelvin: number) => temperatureInUnit(kelvin, unit)
  const series = profiles.map(({ along, temperatureK, ownK }, line) => {
    const value = (kelvin: number) => (Number.isFinite(kelvin) ? to(kelvin) : null)
    const name = profiles.length > 1 ? `Line ${LETTERS[line]}` : 'Along the line'
    const side = (sign: 1 | -1) => temperatureK.map((kelvin, i) => to(kelvin + sign * 2 * ownK[i]!))
    return {
      label: `${name}, ± between places`,
      kind: 'line' as const,
      colour: COLOURS[line]!,
      x: along.map((pixels) => pixels * (millimetres ?? 1)),
      // A place that was not read is a gap.
      y: temperatureK.map(value),
      band: { low: side(-1), high: side(1) },
    }
  })
  const readable = series.filter(({ y }) => y.filter((one) => one !== null).length > 1)
  if (readable.length === 0) return null
  return {
    title: profiles.length > 1 ? 'Temperature along two lines' : 'Temperature along the line',
    x: { label: millimetres === null ? 'Along, pixels' : 'Along, mm' },
    y: { label: `Temperature, ${UNIT_SYMBOLS[unit]}` },
    series: readable,
  }
}
