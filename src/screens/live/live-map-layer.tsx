import { useEffect, useMemo, useRef } from 'preact/hooks'
import { mapCss } from '../../colour/map-scale.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { createLiveMap, type LiveMap } from '../../session/live/live-map.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { bandPath, isotherms, roundLevels } from '../../ui/heat-map/isotherms.ts'
import drawing from '../../ui/heat-map/map-drawing.module.css'
import { inTheDark, type ScaleLook, shades } from '../../ui/heat-map/map-picture.ts'
import { screenLook } from '../../ui/look.ts'
import { showPlusMinus, showTemperature, temperatureUnit } from '../../ui/temperature.ts'
import { greySentence, LIVE_MAP_WORDS, livePlaceSentence } from '../../ui/words/live-map.ts'
import css from './live-map.module.css'

/** In a dark shop as bright as a glow of red 0.4. */
const DARK_SHOP = inTheDark(0.74)
const IN_LIGHT: ScaleLook = { brightest: 0.9 }
const look = () => (screenLook.value === 'dark-shop' ? DARK_SHOP : IN_LIGHT)
/** More lines than this are too many to follow. */
const MOST_LINES = 4
const scaleOf = ({ brightest, chroma }: ScaleLook) =>
  `linear-gradient(90deg, ${Array.from({ length: 17 }, (_, i) => mapCss(i / 16, brightest, chroma)).join(', ')})`

/** The map over the live picture, following it. */
export function LiveMapLayer({
  model,
  onMap,
}: {
  model: LiveModel
  onMap: (map: LiveMap | null) => void
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const top = look()
  useEffect(() => {
    const table = shades(top)
    let image: ImageData | null = null
    const map = createLiveMap(model, () => {
      const element = canvas.current
      const { columns, rows } = map.cells
      if (!element || columns === 0) return
      if (!image || image.width !== columns || image.height !== rows) {
        element.width = columns
        element.height = rows
        image = new ImageData(columns, rows)
      }
      map.paint(image.data, table)
      element.getContext('2d')?.putImageData(image, 0, 0)
    })
    onMap(map)
    return () => {
      onMap(null)
      map.dispose()
    }
  }, [model, top])
  return <canvas ref={canvas} class={css.layer} />
}

/** Isotherms, target band and the place that is read, over the map. */
export function LiveMapLines({ map, model }: { map: LiveMap; model: LiveModel }) {
  const { width, height } = model.size.value
  const scale = map.scale.value
  const band = model.desk.band.value
  const place = map.place.value
  const unit = temperatureUnit.value
  const drawn = useMemo(() => {
    if (!scale) return null
    const to = (kelvin: number) => temperatureInUnit(kelvin, unit)
    const from = (value: number) => temperatureFromUnit(value, unit)
    const levels = roundLevels(scale.lowK, scale.highK, to, from, { most: MOST_LINES })
    return {
      lines: scale.uneven ? isotherms(scale.coarse, levels) : [],
      band: band && bandPath(scale.coarse, band.fromK, band.toK),
    }
  }, [scale, band, unit])
  const size = Math.max(width, height) / 28
  return (
    <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      {drawn?.band && <path class={drawing.band} d={drawn.band} fill-rule="evenodd" />}
      {drawn?.lines.map(({ temperatureK, path, label }) => (
        <g key={temperatureK}>
          <path class={drawing.under} d={path} />
          <path class={drawing.line} d={path} />
          {label && (
            <text class={drawing.label} x={label.x} y={label.y} font-size={size}>
              {showTemperature(temperatureK).replace(/ .*/, '')}
            </text>
          )}
        </g>
      ))}
      {place && (
        <>
          <circle class={drawing.under} cx={place.x} cy={place.y} r={size / 2} />
          <circle class={drawing.line} cx={place.x} cy={place.y} r={size / 2} />
        </>
      )}
    </svg>
  )
}

/** The scale of the map, in the person's unit, with both uncertainties. */
export function LiveMapLegend({ map }: { map: LiveMap }) {
  const scale = map.scale.value
  if (!scale) return <p class="small soft">{LIVE_MAP_WORDS.waiting}</p>
  const { lowK, highK, common95K, ownK, marginPixels } = scale
  return (
    <div class={drawing.legend}>
      <div class={css.scale} style={{ background: scaleOf(look()) }} aria-hidden="true" />
      <div class={drawing.ends}>
        <span>{showTemperature(lowK)}</span>
        <span>{showTemperature((lowK + highK) / 2)}</span>
        <span>{showTemperature(highK)}</span>
      </div>
      <p>{livePlaceSentence(map.reading.value)}</p>
      <p class="small soft">
        {LIVE_MAP_WORDS.whole} {showPlusMinus(common95K / 2)}
        {Number.isFinite(ownK) && `, ${LIVE_MAP_WORDS.places} ${showPlusMinus(Math.SQRT2 * ownK)}`}.{' '}
        {greySentence(marginPixels)}
      </p>
    </div>
  )
}
