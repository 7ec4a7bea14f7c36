import { useSignal } from '@preact/signals'
import { address } from '../../ui/router.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { CHECK_PARTS, type CheckPart } from '../../ui/words/check.ts'
import { AlloyPanel } from './alloy-panel.tsx'
import { BrightnessPanel } from './brightness-panel.tsx'
import { ChangePanel } from './change-panel.tsx'
import { ConsensusPanel } from './consensus-panel.tsx'
import { RemainingPanel } from './remaining-panel.tsx'
import { SupplyPanel } from './supply-panel.tsx'

const PARTS = Object.keys(CHECK_PARTS) as CheckPart[]
const PANELS: Record<CheckPart, () => preact.JSX.Element> = {
  consensus: ConsensusPanel,
  supply: SupplyPanel,
  brightness: BrightnessPanel,
  change: ChangePanel,
  remaining: RemainingPanel,
  alloy: AlloyPanel,
}

/** Compares a reading with everything else that is known of the object. */
export function CheckScreen() {
  // "/reading/check/ID/remaining" asks of one reading; "open" is the one that is not saved yet.
  const asked = address.value.rest.split('/')[2]
  const part = useSignal<CheckPart>(PARTS.find((id) => id === asked) ?? 'consensus')
  const Panel = PANELS[part.value]
  return (
    <main class="screen check">
      <header>
        <a class="button" href="/">
          Back
        </a>
        <h1>Can that be true?</h1>
      </header>
      <SelectField
        label="Ask"
        of={PARTS.map((id) => [id, CHECK_PARTS[id].name])}
        value={part.value}
        onValue={(id) => {
          part.value = id
        }}
      />
      <p class="soft">{CHECK_PARTS[part.value].line}</p>
      <Panel />
    </main>
  )
}
