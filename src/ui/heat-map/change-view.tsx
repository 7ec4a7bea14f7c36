import { useMemo, useState } from 'preact/hooks'
import { changeCss } from '../../colour/map-scale.ts'
import { changeSummary, type MapChange } from '../../estimate/map/map-change.ts'
import { cellAt } from '../../estimate/map/profile.ts'
import { median } from '../../numerics/statistics.ts'
import { screenLook } from '../look.ts'
import { Segments } from '../segments.tsx'
import { showMove, showPlusMinus } from '../temperature.ts'
import {
  changeFigure,
  changeSentences,
  MAP_CHANGE_WORDS,
  shiftSentence,
} from '../words/map-change.ts'
import css from './heat-map.module.css'
import { ChangeExport } from './map-export.tsx'
import { MapFigures, MapLegend } from './map-legend.tsx'
import { mapMarks } from './map-marks.ts'
import { changePixels, IN_COLOUR, inTheDark, useCellsUrl } from './map-picture.ts'
import { mapPoster } from './map-poster.ts'
import { MapStage } from './map-stage.tsx'
import { movedCell } from './moved-cell.ts'

const WAYS = [
  ['whole', 'Whole change'],
  ['uneven', 'Uneven part'],
] as const

/** As bright as a glow of red 0.4: none stands beside it here. */
const DARK_SHOP = inTheDark(0.74)
/** Share of the cells at each end that the scale need not reach. */
const ENDS = 0.005
/** A scale of less shows noise. */
const LEAST_K = 5

/** A later map less an earlier one, place by place. */
export function ChangeView({ change, note }: { change: MapChange; note: string }) {
  const [way, setWay] = useState<'whole' | 'uneven'>('whole')
  const [place, setPlace] = useState<number | null>(null)
  const look = screenLook.value === 'dark-shop' ? DARK_SHOP : IN_COLOUR
  const shown = useMemo(() => partOf(change, way), [change, way])
  const { changeK, uncertaintyK, mostK } = shown
  const summary = useMemo(() => changeSummary(changeK, uncertaintyK), [shown])
  const pixels = useMemo(
    () => changePixels(change, changeK, uncertaintyK, mostK, look),
    [change, shown, look],
  )
  const url = useCellsUrl(pixels, change)
  // By keyboard one begins where most changed, else in the middle.
  const first = summary.most ?? summary.least ?? middleCell(changeK)
  const placesK = useMemo(() => median(change.againstMiddleK.filter(Number.isFinite)), [change])
  const sentences = changeSentences(summary, shown, way === 'uneven')
  const marks = mapMarks(change, summary.most, summary.least)
  const { dx, dy } = change.shift
  const shift = shiftSentence(Math.hypot(dx, dy))
  const ticks = [showMove(-mostK), '0', showMove(mostK)] as const
  const figures = [
    [MAP_CHANGE_WORDS.whole, changeFigure(change.middleK, change.middleUncertaintyK)],
    [MAP_CHANGE_WORDS.places, showPlusMinus(placesK)],
  ] as const
  const says = place === null ? null : placeSays(shown, place)
  const texts = [
    `${MAP_CHANGE_WORDS.whole}: ${figures[0][1]}. ${MAP_CHANGE_WORDS.places}: ${figures[1][1]}.`,
    ...sentences,
    MAP_CHANGE_WORDS.grey,
    MAP_CHANGE_WORDS.caution,
    note,
  ]
  return (
    <div class={css.map}>
      <MapStage
        grid={change}
        marks={marks}
        picture={null}
        mapUrl={url}
        opacity={1}
        lines={[]}
        place={place}
        paths={[]}
        label={`${MAP_CHANGE_WORDS.summary}: ${says ?? 'arrow keys read a place'}`}
        onTap={({ x, y }) => {
          const at = cellAt(change, x, y)
          setPlace(at < 0 ? null : at)
        }}
        onMove={(columns, rows) =>
          setPlace((from) => movedCell(change, from ?? first, columns, rows))
        }
      />
      <p class={css.readout} aria-live="polite">
        {says ?? 'Tap a place.'}
      </p>
      <Segments of={WAYS} chosen={way} onChoose={setWay} />
      <MapLegend
        colourAt={(share) => changeCss(2 * share - 1, look.brightest, look.chroma)}
        ticks={ticks}
      />
      <MapFigures of={figures} />
      <ul class={css.says}>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p class="small soft">
        {MAP_CHANGE_WORDS.grey} {shift} {MAP_CHANGE_WORDS.caution}
      </p>
      <ChangeExport
        change={change}
        note={note}
        poster={() =>
          mapPoster({
            grid: change,
            cells: changePixels(change, changeK, uncertaintyK, mostK, IN_COLOUR),
            lines: [],
            marks,
            picture: null,
            opacity: 1,
            colourAt: (share) => changeCss(2 * share - 1),
            ticks,
            texts,
          })
        }
      />
    </div>
  )
}

interface Shown {
  readonly changeK: Float32Array
  readonly uncertaintyK: Float32Array
  /** End of the scale. */
  readonly mostK: number
}

/** The whole change, or what is left of it without that of the middle. */
function partOf(change: MapChange, way: 'whole' | 'uneven'): Shown {
  const changeK =
    way === 'whole' ? change.changeK : change.changeK.map((one) => one - change.middleK)
  const sizes = changeK.filter(Number.isFinite).map(Math.abs).sort()
  return {
    changeK,
    uncertaintyK: way === 'whole' ? change.standardUncertaintyK : change.againstMiddleK,
    mostK: Math.max(sizes.at(-1 - Math.floor(ENDS * sizes.length)) ?? 0, LEAST_K),
  }
}

function middleCell(changeK: Float32Array): number {
  const compared = [...changeK.keys()].filter((at) => Number.isFinite(changeK[at]!))
  return compared[compared.length >> 1] ?? 0
}

function placeSays({ changeK, uncertaintyK }: Shown, at: number): string {
  const change = changeK[at]!
  if (Number.isNaN(change)) return 'Not read in both pictures.'
  return `Change here: ${changeFigure(change, uncertaintyK[at]!)}.`
}
