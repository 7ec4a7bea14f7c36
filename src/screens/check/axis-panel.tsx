import { useEffect, useMemo } from 'preact/hooks'
import type { CombinedOpinions } from '../../estimate/opinions.ts'
import { compareWithLimits } from '../../physics/limits.ts'
import { materialById } from '../../physics/materials.ts'
import { type AxisModel, type AxisRow, createAxisModel } from '../../session/check/axis-model.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { roundTemperature, showTemperature } from '../../ui/temperature.ts'
import { OPINION_NAMES, verdictNotice } from '../../ui/words/check.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { limitNotice } from '../../ui/words/limits.ts'
import { originWord } from '../../ui/words/log.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { SaveOpinion } from './save-opinion.tsx'

const COVERAGE = 2

const showValue = (temperatureK: number, standardUncertaintyK: number) => {
  const { value, plusMinus, unit } = roundTemperature(temperatureK, COVERAGE * standardUncertaintyK)
  return `${value} ± ${plusMinus} ${unit}`
}

/** Everything that was said of one object, each with its interval, and what it comes to together. */
export function AxisPanel() {
  const { log } = useServices()
  const model = useMemo(() => createAxisModel(log), [log])
  useEffect(() => () => model.dispose(), [model])
  const objects = model.objects.value
  if (model.failure.value) return <p role="alert">{logSentence(model.failure.value)}</p>
  if (objects === null) return <p class="soft">Looking into the log …</p>
  if (objects.length === 0) {
    return (
      <p class="card">
        No named object in the log yet. Save readings of one object by different ways (camera, by
        eye, supply power, spectrum) under the same name: here they stand on one axis.
      </p>
    )
  }
  return (
    <section class="stack">
      <SelectField
        label="Object"
        of={objects.map(({ text, count }) => [text, `${text} (${count})`])}
        value={model.object.value}
        onValue={(object) => {
          model.object.value = object
        }}
      />
      <p class="small soft">
        Ticked: the newest, and what was read within an hour before it. Tick only readings of the
        same heat.
      </p>
      <Axis model={model} />
      <Together model={model} />
    </section>
  )
}

function Axis({ model }: { model: AxisModel }) {
  const rows = model.rows.value
  const combined = model.combined.value
  if (rows.length === 0) return <p class="soft">No reading of it has a figure.</p>
  const said = rows.map(({ opinion, standardUncertaintyK }) => ({
    temperatureK: opinion.temperatureK,
    standardUncertaintyK,
  }))
  const ends = [...said, ...(combined?.ok ? [combined] : [])].flatMap(
    ({ temperatureK, standardUncertaintyK: u }) => [
      temperatureK - COVERAGE * u,
      temperatureK + COVERAGE * u,
    ],
  )
  const low = Math.min(...ends)
  const high = Math.max(...ends)
  const margin = 0.04 * (high - low) || 10
  const place = (temperatureK: number) =>
    `${(100 * (temperatureK - low + margin)) / (high - low + 2 * margin)}%`
  const odd = combined?.ok ? combined.oddOneOut?.id : undefined
  return (
    <ol class="axis">
      {rows.map((row) => (
        <Row
          key={row.reading.id}
          row={row}
          model={model}
          place={place}
          odd={row.reading.id === odd}
        />
      ))}
      {combined?.ok && (
        <li class="together">
          <span class="name">
            <strong>Together</strong>
          </span>
          <Bar
            place={place}
            temperatureK={combined.temperatureK}
            standardUncertaintyK={combined.standardUncertaintyK}
          />
        </li>
      )}
      <li class="ends small soft" aria-hidden="true">
        <span>{showTemperature(low)}</span>
        <span>{showTemperature(high)}</span>
      </li>
    </ol>
  )
}

function Row({
  row,
  model,
  place,
  odd,
}: {
  row: AxisRow
  model: AxisModel
  place: (temperatureK: number) => string
  odd: boolean
}) {
  const { reading, opinion, standardUncertaintyK, included } = row
  const origin = originWord(reading)
  return (
    <li class={included ? '' : 'left-out'}>
      <label class="name">
        <input type="checkbox" checked={included} onChange={() => model.toggle(reading.id)} />
        <span>
          <strong>{OPINION_NAMES[opinion.kind]}</strong>
          {origin && <span class="tag">{origin}</span>}
          {odd && <span class="tag odd">odd one out</span>}
          <span class="figure">{showValue(opinion.temperatureK, standardUncertaintyK)}</span>
          <span class="small soft">{showMoment(reading.takenAt.iso)}</span>
        </span>
      </label>
      <Bar
        place={place}
        temperatureK={opinion.temperatureK}
        standardUncertaintyK={standardUncertaintyK}
      />
    </li>
  )
}

function Bar({
  place,
  temperatureK,
  standardUncertaintyK,
}: {
  place: (temperatureK: number) => string
  temperatureK: number
  standardUncertaintyK: number
}) {
  const from = place(temperatureK - COVERAGE * standardUncertaintyK)
  const to = place(temperatureK + COVERAGE * standardUncertaintyK)
  return (
    <div class="axis-track" aria-hidden="true">
      <span class="interval" style={{ left: from, right: `calc(100% - ${to})` }} />
      <span class="pin" style={{ left: place(temperatureK) }} />
    </div>
  )
}

function Together({ model }: { model: AxisModel }) {
  const combined = model.combined.value
  const rows = model.rows.value
  const names = new Map(
    rows.map(({ reading, opinion }) => [reading.id, OPINION_NAMES[opinion.kind]]),
  )
  const nameOf = (id: string) => names.get(id) ?? 'one of them'
  if (!combined) return <p class="soft">Nothing is chosen.</p>
  if (!combined.ok) {
    return (
      <p role="alert">
        These cannot be combined: two of them rest on exactly the same thing. Leave one out.
      </p>
    )
  }
  const materialId = rows.find(({ reading }) => reading.material)?.reading.material ?? ''
  const material = materialById(materialId)
  const limit =
    material &&
    limitNotice(
      compareWithLimits(material, combined.temperatureK, combined.standardUncertaintyK),
      material.name.toLowerCase(),
      showTemperature,
    )
  return (
    <section class="stack result" aria-live="polite">
      <TemperatureFigure
        temperatureK={combined.temperatureK}
        expandedUncertaintyK={COVERAGE * combined.standardUncertaintyK}
      />
      <Notices notices={[verdictNotice(combined, nameOf, showValue), ...(limit ? [limit] : [])]} />
      <Shared combined={combined} nameOf={nameOf} />
      <SaveOpinion
        key={model.object.value}
        method="combined"
        object={model.object.value}
        simulated={rows.some(({ reading, included }) => included && reading.simulated)}
        material={materialId}
        temperatureK={combined.temperatureK}
        standardUncertaintyK={combined.standardUncertaintyK}
        terms={[
          {
            term: 'combined opinions',
            contributionK: combined.standardUncertaintyK,
            sharedBy: null,
          },
        ]}
        parts={combined.opinions.map(({ id, standardUncertaintyK, weight }) => ({
          id,
          temperatureK: rows.find(({ reading }) => reading.id === id)?.opinion.temperatureK ?? 0,
          standardUncertaintyK,
          weight,
        }))}
        inputs={{ opinions: rows.filter(({ included }) => included).map(({ opinion }) => opinion) }}
      />
    </section>
  )
}

function Shared({
  combined,
  nameOf,
}: {
  combined: CombinedOpinions
  nameOf: (id: string) => string
}) {
  return (
    <details>
      <summary>Weights, and what they share</summary>
      <div class="inside">
        <dl class="facts">
          {combined.opinions.map(({ id, weight, standardisedDifference }) => (
            <>
              <dt>{nameOf(id)}</dt>
              <dd>
                weight {(100 * weight).toFixed(0)} %
                {standardisedDifference !== undefined &&
                  `, ${standardisedDifference.toFixed(1)} standard uncertainties from the others`}
              </dd>
            </>
          ))}
        </dl>
        {combined.shared.length === 0 ? (
          <p class="small soft">They share no error: each stands for itself.</p>
        ) : (
          <ul class="small">
            {combined.shared.map(({ ids, correlation }) => (
              <li key={ids.join()}>
                {nameOf(ids[0])} and {nameOf(ids[1])} err together (correlation{' '}
                {correlation.toFixed(2)}).
              </li>
            ))}
          </ul>
        )}
        <p class="small soft">
          Generalised least squares with the shared terms in the covariance (JCGM 100, 5.2); the ±
          is widened by the Birge ratio where that is above 1.
        </p>
      </div>
    </details>
  )
}
