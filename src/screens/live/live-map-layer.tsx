import { useEffect, useRef } from 'preact/hooks'
import { mapCss } from '../../colour/map-scale.ts'
import { createLiveMap, type LiveMap } from '../../session/live/live-map.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { shades } from '../../ui/heat-map/map-picture.ts'
import { screenLook } from '../../ui/look.ts'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { LIVE_MAP_WORDS } from '../../ui/words/heat-map.ts'
import css from './live-map.module.css'

/**
 * OKLab lightness of the scale's brightest colour: for an eye used to the dark that of a red glow whose
 * red nearly fills its code (CIE Y 0.22).
 */
const brightest = () => (screenLook.value === 'dark-shop' ? 0.6 : 0.9)
const scaleOf = (top: number) =>
  `linear-gradient(90deg, ${Array.from({ length: 17 }, (_, i) => mapCss(i / 16, top)).join(', ')})`

/** The map over the live picture, following it. */
export function LiveMapLayer({
  model,
  onMap,
}: {
  model: LiveModel
  onMap: (map: LiveMap | null) => void
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const top = brightest()
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

/** The scale of the map, in the person's unit, with both uncertainties. */
export function LiveMapLegend({ map }: { map: LiveMap }) {
  const scale = map.scale.value
  if (!scale) return <p class="small soft">{LIVE_MAP_WORDS.waiting}</p>
  const { lowK, highK, common95K, ownK } = scale
  return (
    <div class={css.legend}>
      <div class={css.scale} style={{ background: scaleOf(brightest()) }} aria-hidden="true" />
      <div class={css.ends}>
        <span>{showTemperature(lowK)}</span>
        <span>{showTemperature((lowK + highK) / 2)}</span>
        <span>{showTemperature(highK)}</span>
      </div>
      <p class="small soft">
        {LIVE_MAP_WORDS.whole} {showPlusMinus(common95K / 2)}
        {Number.isFinite(ownK) && `, ${LIVE_MAP_WORDS.places} ${showPlusMinus(Math.SQRT2 * ownK)}`}.{' '}
        {LIVE_MAP_WORDS.grey}
      </p>
    </div>
  )
}
