import { useMemo } from 'preact/hooks'
import { tungstenTrueUncertainty } from '../../physics/tungsten.ts'
import { createLampModel } from '../../session/kit/lamp-model.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { SaveEstimate } from './save-estimate.tsx'

/** A filament lamp goes by its own relations: its resistance, or its rating and the reduced supply. */
export function FilamentPanel() {
  const model = useMemo(() => createLampModel(null), [])
  const outcome = model.outcome.value
  const found = 'missing' in outcome || !outcome.ok ? null : outcome
  const u = found && tungstenTrueUncertainty(found.colourTemperatureK, found.standardUncertaintyK)
  return (
    <>
      <WayPicker model={model} />
      <LampSetup model={model} />
      <DimmerQuestion model={model} />
      <MeterFields model={model} />
      <LampResult outcome={outcome} />
      {found && u && (
        <SaveEstimate
          method="supply"
          temperatureK={found.trueTemperatureK}
          standardUncertaintyK={u}
          terms={[{ term: 'filament by its supply', contributionK: u, sharedBy: null }]}
          material="tungsten-bare"
          inputs={model.form.value}
        />
      )}
    </>
  )
}
