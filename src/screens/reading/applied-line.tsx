import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { appliedWords } from '../../ui/words/applied.ts'
import style from './result.module.css'

/** One line: what was applied to this photo; a tap leads to where it is changed for it. */
export function AppliedLine({ model, onChange }: { model: ReadingModel; onChange: () => void }) {
  const estimate = model.estimate.value
  const used =
    estimate?.kind === 'temperature'
      ? estimate.referencesUsed.filter(
          ({ status }) => status === 'used' || status === 'conflicting',
        )
      : []
  const source = model.greySource.value
  return (
    <button type="button" class={style.applied} onClick={onChange}>
      <span>
        {appliedWords({
          balanceState: model.input.value?.balanceState ?? model.choices.value.balanceState,
          card: model.balance.value
            ? source.kind === 'kept'
              ? source.grey.name
              : 'grey card'
            : null,
          rawBalance: !model.balance.value && Boolean(model.input.value?.balance),
          linearity: model.input.value?.linearity.kind ?? null,
          heats: used.map(({ name }) => name),
          contradicted: (model.stored.value?.contradictions ?? []).some(
            ({ code }) => code !== 'card moved',
          ),
        })}
      </span>
      <span class="soft small">Change</span>
    </button>
  )
}
