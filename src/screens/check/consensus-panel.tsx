import { useEffect, useMemo } from 'preact/hooks'
import type { Consensus, Value } from '../../estimate/consensus.ts'
import { compareWithLimits } from '../../physics/limits.ts'
import { materialById } from '../../physics/materials.ts'
import { OPEN } from '../../session/carried-reading.ts'
import {
  type ConsensusModel,
  type ConsensusRow,
  createConsensusModel,
} from '../../session/check/consensus-model.ts'
import { useServices } from '../../session/services.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showDifference, showFigure, showTemperature } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { limitNotice } from '../../ui/words/limits.ts'
import { originWord } from '../../ui/words/log.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { ESTIMATE_NAMES, type Named, sharedLine, verdictWords } from '../../ui/words/verdict.ts'
import css from './check.module.css'
import { SaveEstimate, SaveOpenFirst } from './save-estimate.tsx'
import { askedId } from './use-asked.ts'
import { VerdictPart } from './verdict-part.tsx'

const COVERAGE = 2

/** Everything that was read of one object: whether it can all be true, and what it comes to. */
export function ConsensusPanel() {
  const { log } = useServices()
  const readingId = askedId()
  const model = useMemo(() => createConsensusModel(log, readingId), [log, readingId])
  useEffect(() => () => model.dispose(), [model])
  const objects = model.objects.value
  if (model.failure.value) return <p role="alert">{logSentence(model.failure.value)}</p>
  if (objects === null) return <p class="soft">Looking into the log …</p>
  const asked = model.asked.value
  if (objects.length === 0 && !asked) {
    return (
      <p class="card">
        No named object in the log yet. Save readings of one object by different ways (camera, by
        eye, supply power, spectrum) under the same name: here they stand side by side.
      </p>
    )
  }
  const unnamed = asked !== null && asked.object === ''
  const isNew = asked && !unnamed && !objects.some(({ text }) => text === asked.object)
  return (
    <section class="stack">
      {(!unnamed || objects.length > 0) && (
        <SelectField
          label="Object"
          of={[
            ...(unnamed ? [['', 'No name, within an hour'] as const] : []),
            ...(isNew ? [[asked.object, asked.object] as const] : []),
            ...objects.map(({ text, count }) => [text, `${text} (${count})`] as const),
          ]}
          value={model.object.value}
          onValue={(object) => {
            model.object.value = object
          }}
        />
      )}
      <Together model={model} />
      <Axis model={model} />
      <p class="small soft">
        Ticked: what was read within an hour of the {asked ? 'reading asked about' : 'newest'}.
        Readings by one camera count once; a heat that was changing is left out.
      </p>
    </section>
  )
}

const jointBar = ({ temperatureK, standardUncertaintyK }: Value) => ({
  temperatureK,
  expandedUncertaintyK: COVERAGE * standardUncertaintyK,
})

const namedOf = (rows: readonly ConsensusRow[]): Named[] =>
  rows.map(({ reading, estimate, expandedUncertaintyK }) => ({
    id: reading.id,
    kind: estimate.kind,
    temperatureK: estimate.temperatureK,
    expandedUncertaintyK,
  }))

function Axis({ model }: { model: ConsensusModel }) {
  const rows = model.rows.value
  const found = model.consensus.value
  if (rows.length === 0) return <p class="soft">No reading of it has a figure.</p>
  const value = found?.ok ? found.value : null
  const several = rows.filter(({ included }) => included).length > 1
  const together = value && several ? [jointBar(value)] : []
  const ends = [...namedOf(rows), ...together].flatMap(
    ({ temperatureK, expandedUncertaintyK: half }) => [temperatureK - half, temperatureK + half],
  )
  const low = Math.min(...ends)
  const high = Math.max(...ends)
  const margin = 0.04 * (high - low) || 10
  const place = (temperatureK: number) =>
    `${(100 * (temperatureK - low + margin)) / (high - low + 2 * margin)}%`
  const odd = found?.ok ? found.oddOneOut?.id : undefined
  return (
    <ol class={css.axis}>
      {rows.map((row) => (
        <Row
          key={row.reading.id}
          row={row}
          model={model}
          place={place}
          odd={row.reading.id === odd}
        />
      ))}
      {together.map((bar) => (
        <li key="together" class={css.together}>
          <span class={css.name}>
            <strong>Together</strong>
          </span>
          <Bar place={place} {...bar} />
        </li>
      ))}
      <li class={`${css.ends} small soft`} aria-hidden="true">
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
  row: ConsensusRow
  model: ConsensusModel
  place: (temperatureK: number) => string
  odd: boolean
}) {
  const { reading, estimate, expandedUncertaintyK, included, ids, rangeK, changing } = row
  const origin = originWord(reading)
  return (
    <li class={included ? '' : css.leftOut}>
      <label class={css.name}>
        <input type="checkbox" checked={included} onChange={() => model.toggle(reading.id)} />
        <span>
          <strong>{ESTIMATE_NAMES[estimate.kind]}</strong>
          {origin && <span class="tag">{origin}</span>}
          {odd && <span class={`tag ${css.odd}`}>odd one out</span>}
          <span class="figure">{showFigure(estimate.temperatureK, expandedUncertaintyK)}</span>
          <span class="small soft">
            {showMoment(reading.takenAt.iso)}
            {ids.length > 1 && `, stands for ${ids.length} readings`}
            {changing && `, changing: ${showDifference(rangeK)} while it was read`}
          </span>
        </span>
      </label>
      <Bar
        place={place}
        temperatureK={estimate.temperatureK}
        expandedUncertaintyK={expandedUncertaintyK}
      />
    </li>
  )
}

function Bar({
  place,
  temperatureK,
  expandedUncertaintyK,
}: {
  place: (temperatureK: number) => string
  temperatureK: number
  expandedUncertaintyK: number
}) {
  const from = place(temperatureK - expandedUncertaintyK)
  const to = place(temperatureK + expandedUncertaintyK)
  return (
    <div class={css.axisTrack} aria-hidden="true">
      <span class={css.interval} style={{ left: from, right: `calc(100% - ${to})` }} />
      <span class={css.pin} style={{ left: place(temperatureK) }} />
    </div>
  )
}

function Together({ model }: { model: ConsensusModel }) {
  const found = model.consensus.value
  const rows = model.rows.value.filter(({ included }) => included)
  if (!found) {
    const moved = model.rows.value.some(({ changing }) => changing)
    return (
      <p class="soft">
        Nothing is ticked{moved && ': its heat was changing while it was read'}. Tick what you hold
        to be of one moment.
      </p>
    )
  }
  if (!found.ok) return <p role="alert">One of these states no uncertainty. Leave it out.</p>
  const named = namedOf(rows)
  const words = verdictWords(found, named)
  const value = found.value
  const only = named.length === 1 ? named[0] : undefined
  const withOpen = rows.some(({ ids }) => ids.includes(OPEN))
  const materialId = rows.find(({ reading }) => reading.material)?.reading.material ?? ''
  const material = materialById(materialId)
  const limit =
    material &&
    value &&
    limitNotice(
      compareWithLimits(material, value.temperatureK, value.standardUncertaintyK),
      material.name.toLowerCase(),
      showTemperature,
    )
  return (
    <section class="stack" aria-live="polite">
      <VerdictPart words={words} more={limit ? [limit] : []} />
      {value && (
        <TemperatureFigure
          temperatureK={value.temperatureK}
          expandedUncertaintyK={
            only ? only.expandedUncertaintyK : jointBar(value).expandedUncertaintyK
          }
        />
      )}
      {rows.length > 1 && <Weights found={found} named={named} />}
      {value && rows.length > 1 && withOpen && <SaveOpenFirst />}
      {value && rows.length > 1 && !withOpen && (
        <SaveEstimate
          key={model.object.value}
          method="combined"
          object={model.object.value}
          simulated={rows.some(({ reading }) => reading.simulated)}
          material={materialId}
          temperatureK={value.temperatureK}
          standardUncertaintyK={value.standardUncertaintyK}
          terms={[
            {
              term: 'consensus value',
              contributionK: value.standardUncertaintyK,
              sharedBy: null,
            },
          ]}
          parts={found.estimates.map(({ id, standardUncertaintyK, weight }) => ({
            id,
            temperatureK: named.find((one) => one.id === id)?.temperatureK ?? 0,
            standardUncertaintyK,
            weight: weight ?? 0,
          }))}
          inputs={{ estimates: rows.map(({ estimate }) => estimate) }}
        />
      )}
    </section>
  )
}

function Weights({ found, named }: { found: Consensus; named: readonly Named[] }) {
  const shared = sharedLine(found, named)
  return (
    <>
      {shared && <p class="small soft">{shared}</p>}
      {found.value && (
        <details>
          <summary>How much each counts</summary>
          <div class="inside">
            <dl class="facts">
              {found.estimates.map(({ id, weight }) => (
                <>
                  <dt>{ESTIMATE_NAMES[named.find((one) => one.id === id)?.kind ?? 'by eye']}</dt>
                  <dd>{(100 * (weight ?? 0)).toFixed(0)} %</dd>
                </>
              ))}
            </dl>
            <p class="small soft">
              Least uncertainty with weights from 0 to 100 %, for errors that may be common by 0.2
              more than stated (JCGM 100, 5.2). So the figure always lies between the readings.
            </p>
          </div>
        </details>
      )}
    </>
  )
}
