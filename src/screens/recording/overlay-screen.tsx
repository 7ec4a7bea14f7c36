import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { crossingsOf } from '../../estimate/recording/crossings.ts'
import type { StoredRecording } from '../../log/recordings/types.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { curveOf } from '../../session/recording/curve-of.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import { Plot } from '../../ui/plots/plot.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showPlusMinus, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { noticeOfLogFailure } from '../../ui/words/log-errors.ts'
import { nameOf } from './list-screen.tsx'
import { overlayPlotData } from './plot-data.ts'

type Align = 'start' | 'mark' | 'falls' | 'rises'

/** Several recordings on one plot, counted from their beginning, a mark, or a temperature. */
export function OverlayScreen({ ids }: { ids: readonly string[] }) {
  const { log } = useServices()
  const found = useSignal<readonly StoredRecording[] | null>(null)
  const failure = useSignal<unknown>(null)
  const align = useSignal<Align>('start')
  const thresholdK = useSignal<number | null>(null)
  const bandFromK = useSignal<number | null>(null)
  const bandToK = useSignal<number | null>(null)
  useEffect(() => {
    log
      .then(({ recordings }) => Promise.all(ids.map((id) => recordings.get(id))))
      .then((all) => {
        found.value = all.filter((one) => one !== undefined)
      })
      .catch((error: unknown) => {
        failure.value = error
      })
  }, [log])

  const unit = temperatureUnit.value
  const stored = found.value
  const overlaid = useMemo(
    () =>
      (stored ?? []).map(({ head, columns }) => {
        const curve = curveOf(columns)
        const level = thresholdK.value
        const sign = align.value === 'falls' ? -1 : 1
        const byLevel =
          level === null
            ? undefined
            : crossingsOf(curve, level).find(({ slope }) => slope * sign > 0)?.seconds
        const fromSeconds =
          align.value === 'start' ? 0 : align.value === 'mark' ? head.marks[0]?.seconds : byLevel
        const called = head.object
          ? `${head.object}, ${showMoment(head.startedAt.iso)}`
          : nameOf(head)
        const off = head.commonK === null ? '' : `, ${showPlusMinus(head.commonK)}`
        return { name: `${called}${off}`, curve, fromSeconds }
      }),
    [stored, align.value, thresholdK.value],
  )
  const fitting = overlaid.flatMap(({ fromSeconds, ...rest }) =>
    fromSeconds === undefined ? [] : [{ ...rest, fromSeconds }],
  )
  const band =
    bandFromK.value !== null && bandToK.value !== null && bandToK.value > bandFromK.value
      ? { fromK: bandFromK.value, toK: bandToK.value }
      : null
  const data = useMemo(
    () => (fitting.length > 0 ? overlayPlotData(fitting, band) : null),
    [overlaid, band?.fromK, band?.toK, unit],
  )
  const left = overlaid.length - fitting.length
  const problem = noticeOfLogFailure(failure.value)
  const field = (label: string, of: typeof bandFromK) => (
    <NumberField
      label={`${label}, ${UNIT_SYMBOLS[unit]}`}
      value={of.value === null ? null : Math.round(temperatureInUnit(of.value, unit))}
      min={Math.round(temperatureInUnit(300, unit))}
      max={Math.round(temperatureInUnit(4000, unit))}
      onValue={(typed) => {
        of.value = typed === null ? null : temperatureFromUnit(typed, unit)
      }}
    />
  )
  return (
    <main class="screen" aria-busy={stored === null && !problem}>
      <header>
        <a class="button" href="/log/recordings">
          Back
        </a>
        <h1>On one plot</h1>
      </header>
      {problem && <Notices notices={[problem]} />}
      {data && <Plot data={data} fileName="glowbook-recordings" height={320} />}
      {left > 0 && (
        <p class="soft">
          {left} without such a moment {left === 1 ? 'is' : 'are'} left out.
        </p>
      )}
      <div class="two-up">
        <SelectField
          label="Counted from"
          value={align.value}
          of={[
            ['start', 'Beginning'],
            ['mark', 'First mark'],
            ['falls', 'Falling through'],
            ['rises', 'Rising through'],
          ]}
          onValue={(value) => {
            align.value = value
          }}
        />
        {(align.value === 'falls' || align.value === 'rises') && field('Temperature', thresholdK)}
      </div>
      <div class="two-up">
        {field('Target band from', bandFromK)}
        {field('to', bandToK)}
      </div>
    </main>
  )
}
