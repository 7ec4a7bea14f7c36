import { LADDER_RUNGS_K, lampSetting } from '../../physics/lamp-ladder.ts'
import type { LampForm } from '../../session/kit/lamp-form.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { plainNumber } from '../../ui/plain-number.ts'
import css from './kit.module.css'

/** Several dimmer settings one after the other: each ties the camera at another red. */
export function LadderPanel({ model }: { model: LampModel }) {
  const ladder = model.ladder.value
  if (!ladder) {
    return (
      <button
        type="button"
        class="wide"
        onClick={() => {
          model.ladder.value = { rung: 0, kept: [] }
          // Below rated volts the rating alone says nothing, below a fifth of them neither do the volts.
          if (model.form.peek().method === 'rated') {
            model.change({ method: 'resistance', second: 'amperes' })
          }
        }}
      >
        Lamp ladder: several dimmer settings
      </button>
    )
  }
  const done = ladder.kept.length === LADDER_RUNGS_K.length
  return (
    <section class="stack card" aria-labelledby="ladder">
      <h2 id="ladder">Lamp ladder</h2>
      <ol class={css.ladder}>
        {LADDER_RUNGS_K.map((rungK, i) => {
          const kept = ladder.kept.includes(i)
          return (
            <li key={rungK}>
              <button
                type="button"
                class="wide"
                aria-current={i === ladder.rung ? 'step' : undefined}
                onClick={() => {
                  model.ladder.value = { ...ladder, rung: i }
                }}
              >
                <span>{rungK} K</span>
                <span class="small soft">{hint(rungK, model.form.value)}</span>
                <span class={css.done}>{kept ? 'kept' : ''}</span>
              </button>
            </li>
          )
        })}
      </ol>
      <p class="small soft">
        {done
          ? 'All are kept.'
          : 'Turn the dimmer to about this, wait two minutes, type what the meters show, photograph. What counts is measured; the target need not be met.'}
      </p>
      <button
        type="button"
        onClick={() => {
          model.ladder.value = null
        }}
      >
        {done ? 'Done' : 'Leave the ladder'}
      </button>
    </section>
  )
}

/** What the meters should show on a rung, roughly. */
function hint(rungK: number, { method, lamp }: LampForm): string {
  const { voltsRatio, powerRatio, withinLaw } = lampSetting(rungK, lamp.rating)
  const percent = (ratio: number) => `${(100 * ratio).toFixed(0)} %`
  if (method === 'watts') {
    return lamp.ratedWatts
      ? `about ${plainNumber(powerRatio * lamp.ratedWatts)} W`
      : `${percent(powerRatio)} of watts`
  }
  const volts = lamp.ratedVolts
    ? `about ${(voltsRatio * lamp.ratedVolts).toFixed(0)} V`
    : `${percent(voltsRatio)} of volts`
  return withinLaw || method === 'resistance' ? volts : `${volts}, by resistance`
}
