import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { METHODS, type Method } from '../log/schema/reading-schema.ts'
import type { Summary } from '../log/schema/types.ts'
import { useServices } from '../session/services.ts'
import { TemperatureFigure } from './quantity.tsx'
import { showMoment } from './words/dates.ts'
import { METHOD_NAMES } from './words/methods.ts'

const BY_EYE: readonly Method[] = ['by eye']
/** What was made of other readings is no second estimate. */
const MEASURED = METHODS.filter((method) => method !== 'by eye' && method !== 'combined')
/** Readings of one piece of work belong together within half a day. */
const NEAR_MS = 12 * 3600_000
const MOST = 4

/**
 * What else was read of the same object at that time: measured readings beside one by eye, readings by
 * eye beside a measured one. They stand side by side and are not mixed.
 */
export function OtherEstimates({
  object,
  aroundMs,
  simulated,
  which,
}: {
  object: string
  aroundMs: number
  simulated: boolean
  which: 'measured' | 'by eye'
}) {
  const { log } = useServices()
  const found = useSignal<readonly Summary[]>([])
  const name = object.trim()
  useEffect(() => {
    let wanted = true
    found.value = []
    if (name === '') return
    log
      .then((opened) =>
        opened.find({
          object: name,
          simulated,
          methods: which === 'measured' ? MEASURED : BY_EYE,
          fromMs: aroundMs - NEAR_MS,
          toMs: aroundMs + NEAR_MS,
        }),
      )
      .then(
        (view) => {
          if (!wanted) return
          found.value = view
            .summaries()
            .filter(({ kind }) => kind === 'temperature')
            .sort((a, b) => Math.abs(a.takenAtMs - aroundMs) - Math.abs(b.takenAtMs - aroundMs))
            .slice(0, MOST)
        },
        // Without a log there is nothing to stand beside.
        () => undefined,
      )
    return () => {
      wanted = false
    }
  }, [log, name, aroundMs, simulated, which])
  if (found.value.length === 0) return null
  return (
    <section class="card stack other-estimates">
      <h2>{which === 'measured' ? 'Measured, beside it' : 'By eye, beside it'}</h2>
      <dl class="facts">
        {found.value.map(({ id, method, takenAt, temperatureK, expandedUncertaintyK }) => (
          <>
            <dt key={id}>
              {METHOD_NAMES[method]}, {showMoment(takenAt)}
            </dt>
            <dd>
              <a class="button" href={`/log/${id}`}>
                <TemperatureFigure
                  temperatureK={temperatureK ?? 0}
                  expandedUncertaintyK={expandedUncertaintyK ?? 0}
                  size="line"
                />
              </a>
            </dd>
          </>
        ))}
      </dl>
    </section>
  )
}
