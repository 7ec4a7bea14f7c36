import type { LampInput } from '../../physics/lamps.ts'
import type { LampData } from '../../session/kit/kit-data.ts'
import { ratingOf, type TypedText } from '../../session/kit/lamp-form.ts'
import { lampHazards } from '../../session/kit/lamp-hazards.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { NumberField } from '../number-field.tsx'
import { Segments } from '../segments.tsx'
import { SelectField } from '../select-field.tsx'
import { LAMP_FIELDS, LAMP_KINDS, LAMP_METHODS } from '../words/lamps.ts'
import { CONTEXT_CAUTIONS } from '../words/safety-statements.data.ts'
import { ColdFields } from './cold-fields.tsx'
import css from './lamp.module.css'
import { MeterAccuracy } from './meter-accuracy.tsx'
import { MeterField } from './meter-field.tsx'

const METHODS = Object.keys(LAMP_METHODS) as LampInput['method'][]
const KINDS = Object.keys(LAMP_KINDS) as LampData['ratingKind'][]

/** By which of the four ways the lamp is known. */
export function WayPicker({ model }: { model: LampModel }) {
  const { method } = model.form.value
  return (
    <fieldset class={css.plainSet}>
      <legend class="soft small">Known by</legend>
      <Segments
        of={METHODS.filter((way) => way !== 'rated' || !model.ladder.value).map(
          (way) => [way, LAMP_METHODS[way].name] as const,
        )}
        chosen={method}
        onChoose={(way) => model.change({ method: way })}
      />
      <p class="small soft">{LAMP_METHODS[method].line}</p>
    </fieldset>
  )
}

/** What stays the same from one dimmer setting to the next: the lamp, its supply, the meters. */
export function LampSetup({ model }: { model: LampModel }) {
  const { method, second, lamp } = model.form.value
  const change = (part: Partial<LampData>) => model.change({ lamp: { ...lamp, ...part } })
  const byResistance = method === 'resistance'
  return (
    <>
      {byResistance ? <ColdFields model={model} /> : <Rating lamp={lamp} change={change} />}
      {method === 'volts' && (
        <NumberField
          label={LAMP_FIELDS.ratedVolts}
          value={lamp.ratedVolts}
          min={1}
          max={500}
          onValue={(ratedVolts) => change({ ratedVolts })}
        />
      )}
      {method === 'watts' && (
        <NumberField
          label={LAMP_FIELDS.ratedWatts}
          value={lamp.ratedWatts}
          min={0.1}
          max={5000}
          onValue={(ratedWatts) => change({ ratedWatts })}
        />
      )}
      {method !== 'rated' && (
        <MeterAccuracy
          meters={lamp.meters}
          shown={
            byResistance ? ['volts', second, 'ohms'] : method === 'volts' ? ['volts'] : ['watts']
          }
          onMeters={(meters) => change({ meters })}
        />
      )}
    </>
  )
}

/** What the meters show at this setting. */
export function MeterFields({ model }: { model: LampModel }) {
  const { method, second } = model.form.value
  if (method === 'rated') return null
  const names: readonly (keyof TypedText)[] =
    method === 'resistance' ? ['volts', second] : method === 'volts' ? ['volts'] : ['watts']
  return (
    <>
      <div class="row">
        {names.map((name) => (
          <MeterField key={name} model={model} name={name} />
        ))}
      </div>
      {lampHazards(model.form.value).map((hazard) => (
        <p key={hazard} role="alert" class="failure">
          {CONTEXT_CAUTIONS[hazard].text}
        </p>
      ))}
    </>
  )
}

/** What the label says. */
function Rating({ lamp, change }: { lamp: LampData; change: (part: Partial<LampData>) => void }) {
  const { rating, ratingKind } = lamp
  return (
    <>
      <SelectField
        label="Lamp"
        of={KINDS.map((kind) => [kind, LAMP_KINDS[kind]])}
        value={ratingKind}
        onValue={(kind) => change({ ratingKind: kind, rating: ratingOf(kind, rating) })}
      />
      {ratingKind === 'stated' && (
        <div class="row">
          <NumberField
            label="Colour temperature, K"
            value={rating.colourTemperatureK}
            min={1500}
            max={3450}
            onValue={(value) => {
              if (value !== null) change({ rating: { ...rating, colourTemperatureK: value } })
            }}
          />
          <NumberField
            label="± 1 standard uncertainty, K"
            value={rating.standardUncertaintyK}
            min={1}
            max={500}
            onValue={(value) => {
              if (value !== null) change({ rating: { ...rating, standardUncertaintyK: value } })
            }}
          />
        </div>
      )}
    </>
  )
}
