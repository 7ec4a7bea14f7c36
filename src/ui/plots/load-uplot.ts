/** The plotting library, loaded with the first plot and not with the page. */
import UPlot from 'uplot'
import 'uplot/dist/uPlot.min.css'
import type { PlotData, PlotView } from './plot-types.ts'
import type { PlotInk } from './series-look.ts'
import { plotOptions, plotTable } from './uplot-config.ts'

export function makePlot(
  element: HTMLElement,
  data: PlotData,
  ink: PlotInk,
  height: number,
  view: () => PlotView,
  onCursor: (x: number | null) => void,
): UPlot {
  const size = { width: element.clientWidth, height }
  const plot = new UPlot(
    plotOptions(data, ink, size, view, onCursor),
    plotTable(UPlot, data),
    element,
  )
  const { x, y } = view()
  plot.batch(() => {
    plot.setScale('x', { min: x[0], max: x[1] })
    plot.setScale('y', { min: y[0], max: y[1] })
  })
  return plot
}
