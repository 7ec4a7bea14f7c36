import { useEffect, useRef } from 'preact/hooks'
import { UnitPicker } from '../../ui/unit-picker.tsx'
import { SAFETY_GATE } from '../../ui/words/safety.ts'
import { CautionLines } from './cautions.tsx'
import css from './safety.module.css'

/** The cautions before the first use: nothing else can be reached until they are accepted. */
export function SafetyGate({ onAccept }: { onAccept: () => void }) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  return (
    <div class={css.gate}>
      <main class="screen">
        <header>
          <h1 ref={heading} tabIndex={-1}>
            {SAFETY_GATE.title}
          </h1>
        </header>
        <UnitPicker />
        <p class="soft">{SAFETY_GATE.lead}</p>
        <CautionLines />
        <div class="dock">
          <button type="button" class="primary wide" onClick={onAccept}>
            {SAFETY_GATE.accept}
          </button>
        </div>
      </main>
    </div>
  )
}
