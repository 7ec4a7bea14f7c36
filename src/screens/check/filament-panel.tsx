import { useMemo } from 'preact/hooks'
import type { Reading } from '../../log/schema/types.ts'
import { tungstenTrueUncertainty } from '../../physics/tungsten.ts'
import { createLampModel } from '../../session/kit/lamp-model.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { SaveEstimate } from './save-estimate.tsx'
import { AgainstReading } from './verdict-part.tsx'

/** A filament lamp goes by its own relations: its resistance, or its rating and the reduced supply. */
export function FilamentPanel({ asked }: { asked: Reading | null }) {
  const model = useMemo(() => createLampModel(null), [])
  const outcome = model.outcome.value
  const found = 'missing' in outcome || !outcome.ok ? null : outcome
  const u = found && tungstenTrueUncertainty(found.colourTemperatureK, found.standardUncertaintyK)
  const terms = u ? [{ term: 'filament by its supply', contributionK: u, sharedBy: null }] : []
  return (
    <>
      <WayPicker model={model} />
      <LampSetup model={model} />
      <DimmerQuestion model={model} />
      <MeterFields model={model} />
      {found && (
        <AgainstReading
          asked={asked}
          kind="supply"
          temperatureK={found.trueTemperatureK}
          terms={terms}
        />
      )}
      <LampResult outcome={outcome} />
      {found && u && (
        <SaveEstimate
          method="supply"
          temperatureK={found.trueTemperatureK}
          standardUncertaintyK={u}
          terms={terms}
          object={asked?.object ?? ''}
          simulated={asked?.simulated ?? false}
          material="tungsten-bare"
          inputs={model.form.value}
        />
      )}
    </>
  )
}
