import { useEffect, useMemo, useState } from 'preact/hooks'
import { lightnessOfGlow, mapCss } from '../../colour/map-scale.ts'
import type { Evenness } from '../../estimate/map/evenness.ts'
import { type HeatMap, MAP_STATES } from '../../estimate/map/heat-map.ts'
import { cellAt, type Point } from '../../estimate/map/profile.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { screenLook } from '../look.ts'
import { Segments } from '../segments.tsx'
import { showFigure, showPlusMinus, showTemperature, temperatureUnit } from '../temperature.ts'
import {
  againstReading,
  evennessSentences,
  MAP_WORDS,
  marginSentence,
  NOT_READ,
} from '../words/heat-map.ts'
import css from './heat-map.module.css'
import { isotherms, roundLevels } from './isotherms.ts'
import { MapExport } from './map-export.tsx'
import { MapFigures, MapLegend } from './map-legend.tsx'
import { type MapRange, mapPixels, shades, useCellsUrl } from './map-picture.ts'
import { mapPoster } from './map-poster.ts'
import { MapProfile, mainLine } from './map-profile.tsx'
import { type MapPicture, MapStage } from './map-stage.tsx'
import { movedCell } from './moved-cell.ts'

const TOOLS = [
  ['place', 'Read a place'],
  ['line', 'Line'],
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
  const [path, setPath] = useState<readonly Point[]>(() => mainLine(map))
  const [lengthMm, setLengthMm] = useState<number | null>(null)
  // Another map: places of the former one mean nothing.
  useEffect(() => {
    setPlace(null)
    setPath(mainLine(map))
  }, [map])
  const range = useMemo(() => rangeOf(map), [map])
  const brightest = screenLook.value === 'dark-shop' ? brightestOf(map) : 1
  const pixels = useMemo(() => mapPixels(map, range, shades(brightest)), [map, range, brightest])
  const mapUrl = useCellsUrl(pixels, map)
  const lines = useMemo(() => {
    const to = (kelvin: number) => temperatureInUnit(kelvin, unit)
    const from = (value: number) => temperatureFromUnit(value, unit)
    return isotherms(map, roundLevels(range.lowK, range.highK, to, from))
  }, [map, range, unit])
  const lengthPixels = path.reduce(
    (sum, { x, y }, i) => sum + (i === 0 ? 0 : Math.hypot(x - path[i - 1]!.x, y - path[i - 1]!.y)),
    0,
  )
  const millimetres = lengthMm === null ? null : lengthMm / Math.max(lengthPixels, 1)
  const sentences = evennessSentences(evenness, map.side, millimetres && millimetres * map.side)
  const ticks = [
    showTemperature(range.lowK),
    showTemperature((range.lowK + range.highK) / 2),
    showTemperature(range.highK),
  ] as const
  const figures = [
    [MAP_WORDS.whole, showPlusMinus(map.scale.common95K / 2)],
    [MAP_WORDS.places, showPlusMinus(Math.SQRT2 * evenness.usualOwnK)],
  ] as const
  const says = place === null ? null : placeSays(map, place)
  return (
    <div class={css.map}>
      <MapStage
        grid={map}
        hottest={evenness.hottest}
        coolest={evenness.coolest}
        picture={picture}
        mapUrl={mapUrl}
        opacity={opacity}
        lines={lines}
        place={tool === 'place' ? place : null}
        paths={tool === 'line' ? [{ points: path, letter: 'A', chosen: true }] : []}
        label={`${MAP_WORDS.title}: ${says ?? 'arrow keys read a place'}`}
        onTap={(point) => {
          if (tool === 'line') setPath(([a, b]) => nearerMoved(a!, b!, point))
          else setPlace(validCell(cellAt(map, point.x, point.y)))
        }}
        onMove={(columns, rows) => {
          setTool('place')
          setPlace(movedCell(map, place ?? evenness.hottest, columns, rows))
        }}
      />
      <Segments of={TOOLS} chosen={tool} onChoose={setTool} />
      {tool === 'place' ? (
        <p class={css.readout} aria-live="polite">
          {says ?? 'Tap a place.'}
        </p>
      ) : (
        <MapProfile map={map} path={path} lengthMm={lengthMm} onLength={setLengthMm} />
      )}
      <MapLegend colourAt={(share) => mapCss(share, brightest)} ticks={ticks} />
      <MapFigures of={figures} />
      <ul class={css.says}>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p class="small soft">
        ▲ hottest, ▼ coolest. {marginSentence(map.marginPixels, map.closer)} {MAP_WORDS.caution}
      </p>
      <MapExport
        map={map}
        note={note}
        poster={() =>
          mapPoster({
            grid: map,
            cells: mapPixels(map, range, shades(1)),
            lines,
            picture,
            opacity: picture ? opacity : 1,
            colourAt: mapCss,
            ticks,
            texts: [
              `${MAP_WORDS.whole} ${figures[0][1]}. ${MAP_WORDS.places} ${figures[1][1]}.`,
              ...sentences,
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

const validCell = (at: number) => (at < 0 ? null : at)

/** The end of a line that lies nearer to a tapped point goes there. */
function nearerMoved(a: Point, b: Point, to: Point): readonly Point[] {
  const far = (p: Point) => Math.hypot(p.x - to.x, p.y - to.y)
  return far(a) < far(b) ? [to, b] : [a, to]
}

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

/** Share of the cells at each end that the scale need not reach. */
const ENDS = 0.005

/** Nearly all that was read, and no less than a range in which noise does not fill the scale. */
function rangeOf({ temperatureK, ownK }: HeatMap): MapRange {
  const read = temperatureK.filter(Number.isFinite).sort()
  const owns = ownK.filter(Number.isFinite).sort()
  const end = Math.floor(ENDS * read.length)
  const [low, high] = [read[end]!, read.at(-1 - end)!]
  const least = 8 * owns[owns.length >> 1]!
  const more = Math.max(least - (high - low), 0) / 2
  return { lowK: low - more, highK: high + more }
}

/** CIE Y of Display P3 red and green: the glow's own brightness in its picture. */
const [Y_RED, Y_GREEN] = [0.229, 0.692]

function brightestOf({ lnRed, temperatureK, scale }: HeatMap): number {
  let red = 0
  for (let at = 0; at < lnRed.length; at++)
    if (Number.isFinite(temperatureK[at]!)) red = Math.max(red, Math.exp(lnRed[at]!))
  return lightnessOfGlow(red * (Y_RED + Y_GREEN * Math.exp(scale.at.lnRatio)))
}
