import type { LampInput } from '../../physics/lamps.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { LAMP_FIELDS, LAMP_KINDS, LAMP_METHODS } from '../../ui/words/lamps.ts'
import { DimmerQuestion } from './dimmer-question.tsx'
import type { LampData } from './kit-data.ts'
import { ratingOf, type Typed } from './lamp-form.ts'
import type { LampModel } from './lamp-model.ts'
import { MeterAccuracy } from './meter-accuracy.tsx'

const METHODS = Object.keys(LAMP_METHODS) as LampInput['method'][]
const KINDS = Object.keys(LAMP_KINDS) as LampData['ratingKind'][]

/** What is known of the lamp and what the meters show: only what the chosen way asks. */
export function LampFields({ model }: { model: LampModel }) {
  const { method, second, lamp, roomK } = model.form.value
  const change = (part: Partial<LampData>) => model.change({ lamp: { ...lamp, ...part } })
  const byResistance = method === 'resistance'
  return (
    <>
      <fieldset class="plain-set">
        <legend class="soft small">Known by</legend>
        <div class="segments">
          {METHODS.filter((way) => way !== 'rated' || !model.ladder.value).map((way) => (
            <button
              key={way}
              type="button"
              aria-pressed={method === way}
              onClick={() => model.change({ method: way })}
            >
              {LAMP_METHODS[way].name}
            </button>
          ))}
        </div>
      </fieldset>
      <p class="small soft">{LAMP_METHODS[method].line}</p>
      {byResistance ? (
        <>
          <div class="row">
            <MeterField model={model} name="coldOhms" />
            <NumberField
              label={`Lamp when cold, ${UNIT_SYMBOLS[temperatureUnit.value]}`}
              value={Math.round(10 * temperatureInUnit(roomK, temperatureUnit.value)) / 10}
              min={Math.ceil(temperatureInUnit(250, temperatureUnit.value))}
              max={Math.floor(temperatureInUnit(325, temperatureUnit.value))}
              onValue={(value) => {
                if (value !== null) {
                  model.change({ roomK: temperatureFromUnit(value, temperatureUnit.value) })
                }
              }}
            />
          </div>
          <label class="field">
            <span>Hot, from</span>
            <select
              value={second}
              onChange={(event) =>
                model.change({ second: event.currentTarget.value as 'amperes' | 'watts' })
              }
            >
              <option value="amperes">Volts and amperes</option>
              <option value="watts">Volts and watts</option>
            </select>
          </label>
        </>
      ) : (
        <Rating lamp={lamp} change={change} />
      )}
      {method === 'volts' && (
        <div class="row">
          <NumberField
            label={LAMP_FIELDS.ratedVolts}
            value={lamp.ratedVolts}
            min={1}
            max={500}
            onValue={(ratedVolts) => change({ ratedVolts })}
          />
          <MeterField model={model} name="volts" />
        </div>
      )}
      {method === 'watts' && (
        <div class="row">
          <NumberField
            label={LAMP_FIELDS.ratedWatts}
            value={lamp.ratedWatts}
            min={0.1}
            max={5000}
            onValue={(ratedWatts) => change({ ratedWatts })}
          />
          <MeterField model={model} name="watts" />
        </div>
      )}
      {byResistance && (
        <div class="row">
          <MeterField model={model} name="volts" />
          <MeterField model={model} name={second} />
        </div>
      )}
      {(method === 'volts' || byResistance) && <DimmerQuestion lamp={lamp} change={change} />}
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

/** What the label says. */
function Rating({ lamp, change }: { lamp: LampData; change: (part: Partial<LampData>) => void }) {
  const { rating, ratingKind } = lamp
  return (
    <>
      <label class="field">
        <span>Lamp</span>
        <select
          value={ratingKind}
          onChange={(event) => {
            const kind = event.currentTarget.value as LampData['ratingKind']
            change({ ratingKind: kind, rating: ratingOf(kind, rating) })
          }}
        >
          {KINDS.map((kind) => (
            <option key={kind} value={kind}>
              {LAMP_KINDS[kind]}
            </option>
          ))}
        </select>
      </label>
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

/** What a meter shows, with all its digits: they say how fine it reads. */
function MeterField({ model, name }: { model: LampModel; name: keyof Typed }) {
  const { typed } = model.form.value
  return (
    <label class="field grow">
      <span>{LAMP_FIELDS[name]}</span>
      <input
        type="text"
        inputMode="decimal"
        autocomplete="off"
        value={typed[name]}
        onInput={(event) =>
          model.change({ typed: { ...typed, [name]: event.currentTarget.value } })
        }
      />
    </label>
  )
}
