import { useSignal } from '@preact/signals'
import { REFERENCE_RANGE_K } from '../../estimate/spectrum/lamp.ts'
import { KNOWN_HEATS } from '../../physics/fixed-points.data.ts'
import { fixedPointTemperature } from '../../physics/fixed-points.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { useServices } from '../../session/services.ts'
import type { LampChoice } from '../../session/spectrum/lamp-choice.ts'
import { DimmerQuestion } from '../../ui/lamp/dimmer-question.tsx'
import { LampSetup, MeterFields, WayPicker } from '../../ui/lamp/lamp-fields.tsx'
import { LampResult } from '../../ui/lamp/lamp-result.tsx'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { QUANTITY_WORDS, REFERENCE_WORDS } from '../../ui/words/spectrum.ts'

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

const BY_VALUE = 'value'

/** Its temperature: by a fixed point of the list, or as somebody measured it. */
function HeatFields({ choice }: { choice: LampChoice }) {
  const { temperatureK, standardUncertaintyK } = choice.black.value
  const by = useSignal<string>(BY_VALUE)
  const unit = temperatureUnit.value
  const [least, most] = REFERENCE_RANGE_K
  const say = (part: Partial<typeof choice.black.value>) => {
    choice.black.value = { ...choice.black.peek(), ...part }
  }
  return (
    <>
      <SelectField
        label={REFERENCE_WORDS.by}
        of={[
          [BY_VALUE, REFERENCE_WORDS.measured],
          ...KNOWN_HEATS.filter(({ points }) => points.by !== 'value').map(
            ({ id, name }) => [id as string, name] as const,
          ),
        ]}
        value={by.value}
        onValue={(id) => {
          by.value = id
          const heat = KNOWN_HEATS.find((one) => one.id === id)
          const found = heat && fixedPointTemperature({ id: heat.id })
          if (!found?.ok) return
          say({
            temperatureK: found.temperatureK,
            standardUncertaintyK: Number(found.standardUncertaintyK.toPrecision(2)),
          })
        }}
      />
      <div class="row">
        <NumberField
          label={`Temperature, ${UNIT_SYMBOLS[unit]}`}
          value={Number(temperatureInUnit(temperatureK, unit).toFixed(1))}
          min={Math.ceil(temperatureInUnit(least, unit))}
          max={Math.floor(temperatureInUnit(most, unit))}
          onValue={(value) => {
            if (value === null) return
            by.value = BY_VALUE
            say({ temperatureK: temperatureFromUnit(value, unit) })
          }}
        />
        <NumberField
          label="± 1 standard uncertainty, K"
          value={standardUncertaintyK}
          min={0}
          max={500}
          onValue={(value) => value !== null && say({ standardUncertaintyK: value })}
        />
      </div>
    </>
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
