import { saveFile } from '../../ui/save-file.ts'
import { say } from '../../ui/spoken.tsx'
import { CHART_CAUTION, VIEW_WORDS } from '../../ui/words/chart.ts'
import { useServices } from '../services.ts'
import type { ChartModel } from './chart-model.ts'
import { chartSvg, pngFromSvg } from './chart-svg.ts'

/** Print, SVG and PNG, with date, method and caution. */
export function KeepChart({ model }: { model: ChartModel }) {
  const { now } = useServices()
  const svg = () =>
    chartSvg(model, {
      date: now().toISOString().slice(0, 10),
      method: VIEW_WORDS[model.viewKind.value],
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
          void pngFromSvg(svg()).then(
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
