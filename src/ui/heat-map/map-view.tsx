import { useSignal } from '@preact/signals'
import { useEffect, useMemo, useState } from 'preact/hooks'
import { mapCss } from '../../colour/map-scale.ts'
import type { TargetBand } from '../../estimate/live/live-line.ts'
import { bandShares } from '../../estimate/map/band-shares.ts'
import type { Evenness } from '../../estimate/map/evenness.ts'
import { cellDifference, type HeatMap, MAP_STATES } from '../../estimate/map/heat-map.ts'
import { cellAt } from '../../estimate/map/profile.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { BandFields } from '../band-fields.tsx'
import { screenLook } from '../look.ts'
import { Segments } from '../segments.tsx'
import { showFigure, showPlusMinus, showTemperature, temperatureUnit } from '../temperature.ts'
import {
  againstReading,
  bandSentences,
  evennessSentences,
  MAP_WORDS,
  marginSentence,
  markSentence,
  NOT_READ,
  plusMinusDifference,
} from '../words/heat-map.ts'
import css from './heat-map.module.css'
import { bandPath, isotherms, roundLevels } from './isotherms.ts'
import { MapExport } from './map-export.tsx'
import { MapFigures, MapLegend } from './map-legend.tsx'
import { lineLength, type MapLine, mainLine, withCornerAt, withNearestAt } from './map-lines.ts'
import { mapMarks } from './map-marks.ts'
import { IN_COLOUR, inTheDark, mapPixels, shades, useCellsUrl } from './map-picture.ts'
import { mapPoster } from './map-poster.ts'
import { LETTERS, type LinesInHand, MapProfile } from './map-profile.tsx'
import { brightestOf, rangeOf } from './map-range.ts'
import { type MapPicture, MapStage } from './map-stage.tsx'
import { movedCell } from './moved-cell.ts'

const TOOLS = [
  ['place', 'Read a place'],
  ['line', 'Lines'],
] as const

/** A map with all that is read from it: places, a line, what it says as a whole. */
export function MapView({
  map,
  evenness,
  picture,
  note,
}: {
  map: HeatMap
  evenness: Evenness
  picture: MapPicture | null
  /** When and of what it is: stands in exported pictures. */
  note: string
}) {
  const unit = temperatureUnit.value
  const [opacity, setOpacity] = useState(0.85)
  const [tool, setTool] = useState<'place' | 'line'>('place')
  const [place, setPlace] = useState<number | null>(null)
  const [inHand, setInHand] = useState<LinesInHand>(() => linesOf(map))
  const band = useSignal<TargetBand | null>(null)
  const [lengthMm, setLengthMm] = useState<number | null>(null)
  // Another map: places of the former one mean nothing.
  useEffect(() => {
    setPlace(null)
    setInHand(linesOf(map))
  }, [map])
  const range = useMemo(() => rangeOf(map), [map])
  const dark = screenLook.value === 'dark-shop'
  const look = useMemo(() => (dark ? inTheDark(brightestOf(map)) : IN_COLOUR), [map, dark])
  const pixels = useMemo(() => mapPixels(map, range, shades(look)), [map, range, look])
  const mapUrl = useCellsUrl(pixels, map)
  const marks = useMemo(
    () => mapMarks(map, evenness.hottest, evenness.coolest, evenness),
    [map, evenness],
  )
  const lines = useMemo(() => {
    const to = (kelvin: number) => temperatureInUnit(kelvin, unit)
    const from = (value: number) => temperatureFromUnit(value, unit)
    if (range.leastStepK === null) return []
    const marked = [marks.hottest, marks.coolest].filter((place) => place !== null)
    const levels = roundLevels(range.lowK, range.highK, to, from, range)
    return isotherms(map, levels, { marked, leastK: range.leastStepK })
  }, [map, range, unit, marks])
  const target = band.value
  const inBand = useMemo(
    () => (target ? bandPath(map, target.fromK, target.toK) : null),
    [map, target],
  )
  const shares = useMemo(() => (target ? bandShares(map, target) : null), [map, target])
  const bandSays = shares ? bandSentences(shares) : []
  const millimetres =
    lengthMm === null ? null : lengthMm / Math.max(lineLength(inHand.lines[0]!), 1)
  const sentences = evennessSentences(evenness, map.side, millimetres && millimetres * map.side)
  const ticks = [
    showTemperature(range.lowK),
    showTemperature((range.lowK + range.highK) / 2),
    showTemperature(range.highK),
  ] as const
  const span = cellDifference(map, evenness.coolest, evenness.hottest)
  const figures = [
    [MAP_WORDS.whole, showPlusMinus(map.scale.common95K / 2)],
    [MAP_WORDS.places, showPlusMinus(Math.SQRT2 * evenness.usualOwnK)],
    [MAP_WORDS.span, plusMinusDifference(span.differenceK, span.standardUncertaintyK)],
  ] as const
  const paths =
    tool === 'line'
      ? inHand.lines.map((line, i) => ({
          ...line,
          letter: LETTERS[i]!,
          chosen: i === inHand.chosen,
        }))
      : []
  const moveLine = (move: (line: MapLine) => MapLine) =>
    setInHand(({ lines, chosen }) => ({
      lines: lines.map((line, i) => (i === chosen ? move(line) : line)),
      chosen,
    }))
  const says = place === null ? null : placeSays(map, place)
  return (
    <div class={css.map}>
      <MapStage
        grid={map}
        marks={marks}
        picture={picture}
        mapUrl={mapUrl}
        opacity={opacity}
        lines={lines}
        place={tool === 'place' ? place : null}
        band={inBand}
        paths={paths}
        label={`${MAP_WORDS.title}: ${says ?? 'arrow keys read a place'}`}
        onTap={(point) => {
          if (tool === 'line') moveLine((line) => withNearestAt(line, point))
          else setPlace(validCell(cellAt(map, point.x, point.y)))
        }}
        onMove={(columns, rows) => {
          if (tool === 'line') {
            moveLine((line) => {
              const { x, y } = line.points[line.corner]!
              const to = { x: x + columns * map.side, y: y + rows * map.side }
              return withCornerAt(line, cellAt(map, to.x, to.y) < 0 ? { x, y } : to)
            })
          } else setPlace(movedCell(map, place ?? evenness.hottest, columns, rows))
        }}
      />
      <Segments of={TOOLS} chosen={tool} onChoose={setTool} />
      {tool === 'place' ? (
        <p class={css.readout} aria-live="polite">
          {says ?? 'Tap a place.'}
        </p>
      ) : (
        <MapProfile
          map={map}
          inHand={inHand}
          onLines={setInHand}
          lengthMm={lengthMm}
          onLength={setLengthMm}
          note={note}
        />
      )}
      <MapLegend colourAt={(share) => mapCss(share, look.brightest, look.chroma)} ticks={ticks} />
      <MapFigures of={figures} />
      <ul class={css.says}>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <details>
        <summary>Target band</summary>
        <div class="inside">
          <BandFields band={band} />
          <div aria-live="polite">
            {bandSays.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </div>
        </div>
      </details>
      <p class="small soft">
        {markSentence(evenness)} {marginSentence(map.marginPixels, map.closer)} {MAP_WORDS.caution}
      </p>
      <MapExport
        map={map}
        note={note}
        poster={() =>
          mapPoster({
            grid: map,
            cells: mapPixels(map, range, shades(IN_COLOUR)),
            lines,
            marks,
            band: inBand,
            paths,
            picture,
            opacity: picture ? opacity : 1,
            colourAt: (share) => mapCss(share),
            ticks,
            texts: [
              `${figures.map((figure) => figure.join(' ')).join('. ')}.`,
              ...sentences,
              ...bandSays,
              markSentence(evenness),
              MAP_WORDS.caution,
              note,
            ],
          })
        }
      />
      <label class={css.slider}>
        Map over picture
        <input
          type="range"
          min="0"
          max="1"
          step="0.05"
          value={opacity}
          onInput={({ currentTarget }) => setOpacity(Number(currentTarget.value))}
        />
      </label>
    </div>
  )
}

const linesOf = (map: HeatMap): LinesInHand => ({ lines: [mainLine(map)], chosen: 0 })

const validCell = (at: number) => (at < 0 ? null : at)

function placeSays(map: HeatMap, at: number): string {
  const kelvin = map.temperatureK[at]!
  if (Number.isNaN(kelvin)) {
    const state = MAP_STATES[map.state[at]!]!
    return state === 'read' ? '' : NOT_READ[state]
  }
  const own = Math.hypot(map.ownK[at]!, map.leaningK[at]!, map.levelLeaningK[at]!)
  const figure = showFigure(kelvin, Math.hypot(map.scale.common95K, 2 * own))
  return `${figure}; ${againstReading(kelvin - map.scale.temperatureK, own)}.`
}
