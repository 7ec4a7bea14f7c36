import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { Reading } from '../../log/schema/types.ts'
import type { SupplyTemperature } from '../../physics/heat-balance/supply-temperature.ts'
import { materialById, totalEmissivity } from '../../physics/materials.ts'
import { ELEMENTS, type ElementId, TERMS, usualUncertainty } from '../../session/check/elements.ts'
import {
  createSupplyModel,
  NOTHING,
  type SupplyForm,
  type SupplyModel,
} from '../../session/check/supply-model.ts'
import { MaterialPicker, UNSTATED } from '../../ui/material-picker.tsx'
import { MeasureField } from '../../ui/measure-field.tsx'
import { Notices } from '../../ui/notices.tsx'
import { plainNumber } from '../../ui/plain-number.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { ELEMENT_NAMES, MEASURES, supplyRefusalNotice, TERM_WORDS } from '../../ui/words/check.ts'
import { CONTEXT_CAUTIONS } from '../../ui/words/safety-statements.data.ts'
import css from './check.module.css'
import { ContributionBars } from './contribution-bars.tsx'
import { FilamentPanel } from './filament-panel.tsx'
import { SaveEstimate } from './save-estimate.tsx'
import { useAsked } from './use-asked.ts'
import { AgainstReading } from './verdict-part.tsx'

const IDS = Object.keys(ELEMENT_NAMES) as ElementId[]
const LAMP = 'lamp'

/** Which temperature the supply can hold: input power equals radiation plus convection. */
export function SupplyPanel() {
  const model = useMemo(createSupplyModel, [])
  const lamp = useSignal(false)
  const asked = useAsked()
  useEffect(() => {
    if (asked) model.begin(asked)
  }, [model, asked])
  return (
    <section class="stack">
      <div class="card small stack">
        <p>{CONTEXT_CAUTIONS['supply check'].text}</p>
        <p>{CONTEXT_CAUTIONS['mains supply'].text}</p>
      </div>
      <SelectField<ElementId | typeof LAMP>
        label="What glows"
        of={[
          ...IDS.map((id) => [id, ELEMENT_NAMES[id]] as const),
          [LAMP, 'Filament lamp, also dimmed'] as const,
        ]}
        value={lamp.value ? LAMP : model.form.value.element}
        onValue={(chosen) => {
          lamp.value = chosen === LAMP
          if (chosen !== LAMP) model.form.value = { ...model.form.value, element: chosen }
        }}
      />
      {lamp.value ? <FilamentPanel asked={asked} /> : <ElementFields model={model} asked={asked} />}
    </section>
  )
}

/** A dark orange heat, where the table's emissivity is shown. */
const TABLED_K = 1200

interface ElementProps {
  readonly model: SupplyModel
  /** The reading that it is held against. */
  readonly asked: Reading | null
}

function ElementFields({ model, asked }: ElementProps) {
  const form = model.form.value
  const change = (part: Partial<SupplyForm>) => {
    model.form.value = { ...form, ...part }
  }
  const { shape } = ELEMENTS[form.element]
  const material = materialById(form.materialId)
  const tabled = material && totalEmissivity(material, TABLED_K)
  return (
    <div class={css.sides}>
      <div class="stack">
        <p class="small soft">
          A ± may stay empty: what is usual then counts, as the grey figures say. Give ± as a
          standard uncertainty, two thirds of the likely error.
        </p>
        {TERMS[shape].map((term) => {
          const typed = form.measures[term] ?? NOTHING
          return (
            <MeasureField
              key={term}
              label={`${TERM_WORDS[term]}${MEASURES[term] === 'mm' ? ', mm' : ''}`}
              typed={typed}
              min={0.001}
              max={100000}
              usual={{ plusMinus: typed.value && usualUncertainty(term, typed.value) }}
              onTyped={(next) => change({ measures: { ...form.measures, [term]: next } })}
            />
          )
        })}
        <MaterialPicker
          unstated
          materialId={form.materialId}
          onMaterial={(materialId) => change({ materialId })}
        />
        <MeasureField
          label="Total emissivity, if you know better"
          typed={form.emissivity}
          min={0.01}
          max={1}
          usual={{
            value: tabled ? Number(tabled.value.toPrecision(2)) : null,
            plusMinus: form.emissivity.value
              ? usualUncertainty('emissivity', form.emissivity.value)
              : tabled
                ? Number(tabled.standardUncertainty.toPrecision(2))
                : null,
          }}
          onTyped={(emissivity) => change({ emissivity })}
        />
        <Power form={form} change={change} />
        <MeasureField
          label={TERM_WORDS['glowing share']}
          typed={form.share}
          min={0.01}
          max={1}
          usual={{
            plusMinus: form.share.value && usualUncertainty('glowing share', form.share.value),
          }}
          onTyped={(share) => change({ share })}
        />
        <MeasureField
          label={`${TERM_WORDS.room}, °C`}
          typed={form.roomC}
          min={-40}
          max={400}
          usual={{ plusMinus: usualUncertainty('room', 20) }}
          onTyped={(roomC) => change({ roomC })}
        />
        <Shield form={form} change={change} />
      </div>
      <Answer model={model} asked={asked} />
    </div>
  )
}

interface FieldsProps {
  readonly form: SupplyForm
  readonly change: (part: Partial<SupplyForm>) => void
}

function Shield({ form, change }: FieldsProps) {
  const usual = ELEMENTS[form.element].shield
  return (
    <details open={usual !== null}>
      <summary>A tube, wall, guard or shield in its view</summary>
      <div class="inside">
        <MeasureField
          label="Share of the view it takes, 0 to 1"
          typed={form.coverShare}
          min={0}
          max={1}
          usual={{
            value: usual?.share.value ?? null,
            plusMinus: usualUncertainty('shield share', 0),
          }}
          onTyped={(coverShare) => change({ coverShare })}
        />
        <MeasureField
          label="Its own temperature, °C"
          typed={form.coverC}
          min={-40}
          max={2000}
          usual={{
            value: usual?.celsius?.value ?? null,
            plusMinus: usualUncertainty('shield temperature', 0),
          }}
          onTyped={(coverC) => change({ coverC })}
        />
        <p class="small soft">
          Without a temperature it is taken to be as hot as the element: it gives back what it
          takes.
        </p>
      </div>
    </details>
  )
}

const POWER = [
  ['watts', 'True power, W', 100000],
  ['volts', 'Volts', 1000],
  ['amperes', 'Amperes', 1000],
] as const

function Power({ form, change }: FieldsProps) {
  return (
    <fieldset class="unit-picker stack">
      <legend class="soft small">Watts, or volts and amperes; all three check each other</legend>
      {POWER.map(([term, label, most]) => (
        <MeasureField
          key={term}
          label={label}
          typed={form[term]}
          min={0.001}
          max={most}
          usual={{ plusMinus: form[term].value && usualUncertainty(term, form[term].value) }}
          onTyped={(typed) => change({ [term]: typed })}
        />
      ))}
      <label class="choice">
        <input
          type="checkbox"
          checked={form.cutWave}
          onChange={(event) => change({ cutWave: event.currentTarget.checked })}
        />
        Behind a dimmer or controller that cuts the mains wave
      </label>
      {form.cutWave && (
        <p class="small soft">
          Volts times amperes is not the true power then. A wattmeter is better; the ± is widened.
        </p>
      )}
    </fieldset>
  )
}

function Answer({ model, asked }: ElementProps) {
  const answer = model.answer.value
  if (!answer) {
    const { materialId, emissivity } = model.form.value
    const open = materialId === UNSTATED && emissivity.value === null
    return (
      <p class="soft">
        {open ? 'Choose the surface and fill' : 'Fill'} in the numbers: the temperature follows at
        once.
      </p>
    )
  }
  if (!answer.ok) return <Notices notices={[supplyRefusalNotice(answer)]} />
  const largest = answer.contributions[0]
  const { materialId, volts, amperes } = model.form.value
  const terms = answer.contributions.map(({ code, standardUncertainty }) => ({
    term: TERM_WORDS[code],
    contributionK: standardUncertainty,
    sharedBy: code === 'emissivity' ? `surface ${materialId}` : null,
  }))
  return (
    <section class="stack" aria-live="polite">
      <AgainstReading
        asked={asked}
        kind="supply"
        temperatureK={answer.temperatureK}
        terms={terms}
      />
      <h2>By its supply</h2>
      <TemperatureFigure
        temperatureK={answer.temperatureK}
        expandedUncertaintyK={2 * answer.standardUncertaintyK}
      />
      <p class="soft">{whereItGoes(answer)}</p>
      {largest && <p>Largest part of the ±: {TERM_WORDS[largest.code].toLowerCase()}.</p>}
      {answer.filmBeyondTable && (
        <p class="small soft">
          The air at the surface is hotter than the table of air (1500 K): its last values were
          held.
        </p>
      )}
      <ContributionBars
        contributions={answer.contributions.map(({ code, standardUncertainty }) => ({
          name: TERM_WORDS[code],
          standardUncertaintyK: standardUncertainty,
        }))}
      />
      <SaveEstimate
        method="supply"
        temperatureK={answer.temperatureK}
        standardUncertaintyK={answer.standardUncertaintyK}
        terms={terms}
        object={asked?.object ?? ''}
        simulated={asked?.simulated ?? false}
        material={materialId}
        supply={{ volts: volts.value, amperes: amperes.value, watts: answer.powerW }}
        inputs={model.form.value}
      />
    </section>
  )
}

function whereItGoes(answer: SupplyTemperature): string {
  const { powerW, powerUncertaintyW, radiationW, shieldW, convectionW, emissivity } = answer
  const covered =
    Math.abs(shieldW) > 0.01 * powerW ? `, ${plainNumber(shieldW)} W to the cover` : ''
  return (
    `Of ${plainNumber(powerW, 2 * powerUncertaintyW)} W about ${plainNumber(radiationW)} W are ` +
    `radiated${covered}, ${plainNumber(convectionW)} W go to the air. ` +
    `Total emissivity about ${emissivity.toFixed(2)}.`
  )
}
