import { useMemo } from 'preact/hooks'
import {
  createSupplyModel,
  type Shape,
  type SupplyForm,
  type SupplyModel,
  TERMS,
} from '../../session/check/supply-model.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { MeasureField } from '../../ui/measure-field.tsx'
import { Notices } from '../../ui/notices.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { Segments } from '../../ui/segments.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { MEASURES, SHAPE_NAMES, supplyRefusalNotice, TERM_WORDS } from '../../ui/words/check.ts'
import { ContributionBars } from './contribution-bars.tsx'
import { SaveEstimate } from './save-estimate.tsx'

const SHAPES = Object.keys(SHAPE_NAMES) as Shape[]
const BY = [
  ['volts and amperes', 'Volts and amperes'],
  ['watts', 'Watts'],
] as const
const NOTHING = { value: null, plusMinus: null }

/** Which temperature the supply can hold: input power equals radiation plus convection. */
export function SupplyPanel() {
  const model = useMemo(createSupplyModel, [])
  const form = model.form.value
  const change = (part: Partial<SupplyForm>) => {
    model.form.value = { ...form, ...part }
  }
  return (
    <section class="stack">
      <p class="card small">
        Measure cold and dead: isolate, lock off, prove dead. Only the meter readings are taken
        live, by somebody who is trained and licensed for it.
      </p>
      <SelectField
        label="Shape of the glowing part"
        of={SHAPES.map((shape) => [shape, SHAPE_NAMES[shape]])}
        value={form.shape}
        onValue={(shape) => change({ shape })}
      />
      {TERMS[form.shape].map((term) => (
        <MeasureField
          key={term}
          label={`${TERM_WORDS[term]}${MEASURES[term] === 'mm' ? ', mm' : ''}`}
          typed={form.measures[term] ?? NOTHING}
          min={0.001}
          max={100000}
          onTyped={(typed) => change({ measures: { ...form.measures, [term]: typed } })}
        />
      ))}
      <MaterialPicker
        materialId={form.materialId}
        onMaterial={(materialId) => change({ materialId })}
      />
      <MeasureField
        label="Total emissivity, if you know better"
        typed={form.emissivity}
        min={0.01}
        max={1}
        onTyped={(emissivity) => change({ emissivity })}
      />
      <Power form={form} change={change} />
      <MeasureField
        label={TERM_WORDS['glowing-share']}
        typed={form.share}
        min={0.01}
        max={1}
        onTyped={(share) => change({ share })}
      />
      <MeasureField
        label={`${TERM_WORDS.room}, °C`}
        typed={form.roomC}
        min={-40}
        max={400}
        onTyped={(roomC) => change({ roomC })}
      />
      <details>
        <summary>A guard, tube or cover in its view</summary>
        <div class="inside">
          <MeasureField
            label="Share of the view it takes, 0 to 1"
            typed={form.coverShare}
            min={0}
            max={1}
            onTyped={(coverShare) => change({ coverShare })}
          />
          <MeasureField
            label="Its temperature, °C, if known"
            typed={form.coverC}
            min={-40}
            max={2000}
            onTyped={(coverC) => change({ coverC })}
          />
        </div>
      </details>
      <p class="small soft">
        A filament lamp goes by its own relations: <a href="/kit/lamp">add it to the kit</a>.
      </p>
      <Answer model={model} />
    </section>
  )
}

function Power({
  form,
  change,
}: {
  form: SupplyForm
  change: (part: Partial<SupplyForm>) => void
}) {
  return (
    <>
      <Segments of={BY} chosen={form.by} onChoose={(by) => change({ by })} />
      {form.by === 'watts' ? (
        <MeasureField
          label="True power, W"
          typed={form.watts}
          min={0.001}
          max={100000}
          onTyped={(watts) => change({ watts })}
        />
      ) : (
        <>
          <MeasureField
            label="Volts"
            typed={form.volts}
            min={0.001}
            max={1000}
            onTyped={(volts) => change({ volts })}
          />
          <MeasureField
            label="Amperes"
            typed={form.amperes}
            min={0.001}
            max={1000}
            onTyped={(amperes) => change({ amperes })}
          />
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
              Volts times amperes is not the true power then. A wattmeter is better; the ± is
              widened.
            </p>
          )}
        </>
      )}
    </>
  )
}

function Answer({ model }: { model: SupplyModel }) {
  const answer = model.answer.value
  if (!answer) return <p class="soft">Fill in the numbers: the temperature follows at once.</p>
  if (!answer.ok) return <Notices notices={[supplyRefusalNotice(answer)]} />
  const largest = answer.contributions[0]
  return (
    <section class="stack result" aria-live="polite">
      <TemperatureFigure
        temperatureK={answer.temperatureK}
        expandedUncertaintyK={2 * answer.standardUncertaintyK}
      />
      <p class="soft">
        Of {answer.powerW.toPrecision(3)} W about {answer.radiationW.toPrecision(2)} W are radiated,{' '}
        {answer.convectionW.toPrecision(2)} W go to the air. Total emissivity about{' '}
        {answer.emissivity.toFixed(2)}.
      </p>
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
        terms={answer.contributions.map(({ code, standardUncertainty }) => ({
          term: TERM_WORDS[code],
          contributionK: standardUncertainty,
          sharedBy: code === 'emissivity' ? `surface ${model.form.value.materialId}` : null,
        }))}
        material={model.form.value.materialId}
        supply={{
          volts: model.form.value.by === 'watts' ? null : model.form.value.volts.value,
          amperes: model.form.value.by === 'watts' ? null : model.form.value.amperes.value,
          watts: answer.powerW,
        }}
        inputs={model.form.value}
      />
    </section>
  )
}
