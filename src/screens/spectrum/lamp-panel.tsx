import { useServices } from '../../session/services.ts'
import type { LampChoice } from '../../session/spectrum/lamp-choice.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { QUANTITY_WORDS, REFERENCE_WORDS } from '../../ui/words/spectrum.ts'
import { HeatFields } from './heat-fields.tsx'

const NEW_LAMP = 'new'
/** What is chosen here that is no filament lamp. */
const OTHERS = ['black body', 'surface', 'calibration'] as const
type Other = (typeof OTHERS)[number]
const isOther = (chosen: string): chosen is Other => (OTHERS as readonly string[]).includes(chosen)

/** What the instrument is tied to: a lamp, anything hot whose temperature is known, or its maker. */
export function LampPanel({ choice }: { choice: LampChoice }) {
  const { kit } = useServices()
  const filament = choice.filament.value
  const emitter = choice.emitter.value
  const lamps = kit.lamps.value
  const known = lamps.some(({ item }) => item.id === filament.lampId)
  return (
    <section class="stack" aria-labelledby="spectrum-lamp">
      <h2 id="spectrum-lamp">{REFERENCE_WORDS.title}</h2>
      <SelectField
        label={REFERENCE_WORDS.what}
        of={[
          ...lamps.map(({ item }) => [item.id, item.name] as const),
          [NEW_LAMP, lamps.length === 0 ? 'Filament lamp' : 'Another filament lamp'],
          ...OTHERS.map((one) => [one, REFERENCE_WORDS[one]] as const),
        ]}
        value={emitter !== 'tungsten' ? emitter : known ? filament.lampId : NEW_LAMP}
        onValue={(chosen) => {
          choice.emitter.value = isOther(chosen) ? chosen : 'tungsten'
          if (!isOther(chosen)) {
            choice.take(lamps.find(({ item }) => item.id === chosen) ?? null)
          }
        }}
      />
      {emitter === 'tungsten' && (
        <>
          <WayPicker model={filament} />
          <LampSetup model={filament} />
          <DimmerQuestion model={filament} />
          <MeterFields model={filament} />
          <LampResult outcome={filament.outcome.value} />
        </>
      )}
      {emitter === 'surface' && (
        <MaterialPicker
          materialId={choice.surfaceId.value}
          onMaterial={(id) => {
            choice.surfaceId.value = id
          }}
        />
      )}
      {(emitter === 'surface' || emitter === 'black body') && <HeatFields choice={choice} />}
      {emitter === 'calibration' && <QuantityField choice={choice} />}
    </section>
  )
}

/** What the numbers of a calibrated file count. */
function QuantityField({ choice }: { choice: LampChoice }) {
  const lamp = choice.lamp.value
  return (
    <>
      <SelectField
        label={REFERENCE_WORDS.counts}
        of={Object.entries(QUANTITY_WORDS) as [keyof typeof QUANTITY_WORDS, string][]}
        value={lamp?.emitter === 'calibration' ? lamp.quantity : 'power'}
        onValue={(quantity) => {
          choice.quantity.value = quantity
        }}
      />
      <p class="small soft">{REFERENCE_WORDS.calibrationHint}</p>
    </>
  )
}
