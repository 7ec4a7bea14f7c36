import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import { Plot } from '../../ui/plots/plot.tsx'
import type { PlotData } from '../../ui/plots/plot-types.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { PLOT_HINTS, SPECTRUM_PLOTS, type SpectrumPlotId } from '../../ui/words/spectrum.ts'

export type PlotMakers = Partial<Record<SpectrumPlotId, () => PlotData | null>>

/** One picture at a time, chosen by name. */
export function PlotPanel({
  makers,
  of,
  note,
}: {
  /** In the order in which they are offered. */
  makers: PlotMakers
  /** The same as long as the pictures say the same. */
  of: unknown
  note: string
}) {
  const offered = Object.keys(makers) as SpectrumPlotId[]
  const wanted = useSignal<SpectrumPlotId | null>(null)
  const shown = wanted.value !== null && makers[wanted.value] ? wanted.value : offered[0]
  const data = useMemo(() => (shown ? (makers[shown]?.() ?? null) : null), [of, shown])
  if (!shown) return null
  return (
    <div class="stack">
      <SelectField
        label="Picture"
        of={offered.map((id) => [id, SPECTRUM_PLOTS[id].name])}
        value={shown}
        onValue={(id) => {
          wanted.value = id
        }}
      />
      {data && <Plot data={data} height={240} fileName={`spectrum-${shown}`} note={note} />}
      <p class="small soft">{PLOT_HINTS[shown]}</p>
    </div>
  )
}
