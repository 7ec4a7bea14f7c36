import type { ChartModel } from '../../session/chart/chart-model.ts'
import { roomLux } from '../../session/chart/room-light.ts'
import { useServices } from '../../session/services.ts'
import { pngOfSvg } from '../../ui/plots/picture.ts'
import { saveFile } from '../../ui/save-file.ts'
import { say } from '../../ui/spoken.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { CHART_CAUTION, COMPUTED, ROOM_NAMES, VIEW_WORDS } from '../../ui/words/chart.ts'
import { surfaceName } from '../../ui/words/log.ts'
import { lookRangeWords, lookSentence } from '../../ui/words/look.ts'
import { chartSvg } from './chart-svg.ts'

/** Print, SVG and PNG, with date, method and caution. */
export function KeepChart({ model }: { model: ChartModel }) {
  const { now } = useServices()
  const svg = () =>
    chartSvg(model, {
      date: now().toISOString().slice(0, 10),
      method: VIEW_WORDS[model.viewKind.value],
      conditions: `${conditionsOf(model)} ${COMPUTED}`,
      caution: CHART_CAUTION,
    })
  return (
    <div class="row tight no-print">
      <button type="button" class="grow" onClick={() => print()}>
        Print
      </button>
      <button
        type="button"
        class="grow"
        onClick={() => saveFile(new Blob([svg()], { type: 'image/svg+xml' }), 'heat-colours.svg')}
      >
        SVG
      </button>
      <button
        type="button"
        class="grow"
        onClick={() =>
          void pngOfSvg(svg(), 'display-p3').then(
            (blob) => saveFile(blob, 'heat-colours.png'),
            () => say('This browser could not draw the picture. The SVG holds the same.'),
          )
        }
      >
        PNG
      </button>
    </div>
  )
}

/** What a sheet of paper must say by itself. */
export function PaperLine({ model }: { model: ChartModel }) {
  const { now } = useServices()
  return (
    <span class="print-only">
      Glowbook, {now().toISOString().slice(0, 10)}. {conditionsOf(model)}
    </span>
  )
}

/** What the colours on show were computed for, for a page that leaves the app. */
function conditionsOf(model: ChartModel): string {
  const room = model.room.value
  const said = surfaceName(model.materialId.value)
  const surface = `Surface: ${said || 'not said, taken as grey'}.`
  const light = ` Room: ${ROOM_NAMES[room].toLowerCase()}, ${roomLux[room]} lx.`
  const look = model.looks.look.value
  if (model.viewKind.value !== 'camera' || !look) return surface + light
  const place = model.cursorK.value
  const range = model.rangeAt(place)
  const open = range
    ? ` At ${showTemperature(place)} such a photo may be ${lookRangeWords(range)}.`
    : ''
  return `${surface}${light} ${lookSentence(look)}${open}`
}
