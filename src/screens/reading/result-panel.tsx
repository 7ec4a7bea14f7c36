import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import type { GlowEstimate } from '../../estimate/types.ts'
import { isDark, saysNothing } from '../../session/reading/next-step.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { roundInterval, showTemperature } from '../../ui/temperature.ts'
import { NO_NUMBER } from '../../ui/words/estimate.ts'
import { surfaceName } from '../../ui/words/log.ts'
import { BELOW_RANGE } from '../../ui/words/measurement.ts'
import { IT_GLOWS, TOO_DARK } from '../../ui/words/next-step.ts'
import style from './result.module.css'

/** What the reading says: the figure, what it is of, and below it the one next step. */
export function ResultPanel({
  estimate,
  model,
  beside,
  children,
}: {
  estimate: GlowEstimate
  model: ReadingModel
  /** A second estimate, next to the figure. */
  beside: ComponentChildren
  children: ComponentChildren
}) {
  const head = useRef<HTMLDivElement>(null)
  const picture = model.glow.photo.value?.pictureUrl
  // A photo was opened: what it says comes first, also for who listens.
  useEffect(() => head.current?.focus({ preventScroll: true }), [picture])
  const object = model.object.value.trim()
  const { materialId } = model.choices.value
  const of = [object, materialId === '' ? '' : surfaceName(materialId)].filter(Boolean).join(', ')
  return (
    <section class={style.result}>
      <div class={style.head}>
        <div
          ref={head}
          tabIndex={-1}
          class={style.figure}
          aria-live="polite"
          aria-busy={model.outdated.value}
        >
          <Says estimate={estimate} model={model} />
        </div>
        {beside}
      </div>
      {of && <p class={style.of}>{of}</p>}
      {children}
    </section>
  )
}

function Says({ estimate, model }: { estimate: GlowEstimate; model: ReadingModel }) {
  if (estimate.kind === 'temperature') {
    const { temperatureK, expandedUncertaintyK, interval95K } = estimate
    if (saysNothing(estimate)) {
      const [from, to] = roundInterval(interval95K)
      return (
        <>
          <h2>{IT_GLOWS.title}</h2>
          <p>{IT_GLOWS.line(from, to)}</p>
        </>
      )
    }
    return (
      <TemperatureFigure temperatureK={temperatureK} expandedUncertaintyK={expandedUncertaintyK} />
    )
  }
  if (estimate.kind === 'below range') {
    if (isDark(model.measurement.value?.storedLevels ?? null)) {
      return (
        <>
          <h2>{TOO_DARK.title}</h2>
          <p>{TOO_DARK.todo}</p>
        </>
      )
    }
    return (
      <>
        <h2>{BELOW_RANGE.title}</h2>
        <p>{BELOW_RANGE.line(showTemperature(estimate.upperBoundK))}</p>
        <p class="soft">{BELOW_RANGE.todo}</p>
      </>
    )
  }
  const { title, todo } = NO_NUMBER[estimate.reason]
  return (
    <>
      <h2>{title}</h2>
      <p class="soft">{todo}</p>
    </>
  )
}
