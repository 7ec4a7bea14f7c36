import type { ComponentChildren } from 'preact'
import { currentInputs, currentResult } from '../../../log/schema/reading-schema.ts'
import type { Filter, Reading } from '../../../log/schema/types.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { hasMap } from '../../../session/log/maps-to-export.ts'
import { storedGlow } from '../../../session/log/stored-glow.ts'
import { go } from '../../../ui/router.ts'
import { showPlusMinus, showTemperature } from '../../../ui/temperature.ts'
import { balanceWords } from '../../../ui/words/balance.ts'
import { showMoment } from '../../../ui/words/dates.ts'
import { chapmanWords, stirlingWords } from '../../../ui/words/heat-names.ts'
import { LINEARITY_WORDS, lightWords } from '../../../ui/words/kit.ts'
import { coverName, surfaceName } from '../../../ui/words/log.ts'
import { partWords, supplyWords, zoneWords } from '../../../ui/words/log-entry.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'
import { StoredBudget } from '../stored-budget.tsx'
import { StoredMapDetails } from './stored-map.tsx'

type Row = readonly [name: string, value: ComponentChildren]

/** What was said of the reading; what is empty is left out. */
export function EntryFacts({ reading, list }: { reading: Reading; list: ListModel }) {
  const { object, takenAt, material, cover, series, supply, place, roomTemperatureK } = reading
  const result = currentResult(reading)
  const narrow = (filter: Filter) => () => {
    list.find(filter)
    list.place.value = null
    go('log')
  }
  const rows: (Row | false)[] = [
    object !== '' && ['Object', <strong>{object}</strong>],
    ['Taken', `${showMoment(takenAt.iso)}${zoneWords(takenAt)}`],
    ['Method', METHOD_NAMES[reading.method]],
    material !== '' && ['Surface', surfaceName(material)],
    cover !== '' && cover !== 'none' && ['In front', coverName(cover)],
    ...appliedRows(reading),
    supply !== null && ['Supply', supplyWords(supply)],
    place !== '' && ['Place', place],
    roomTemperatureK !== null && ['Room', showTemperature(roomTemperatureK)],
    series !== null && ['Series', series],
    result.kind === 'temperature' && [
      'Heat colour',
      `${chapmanWords(result.temperatureK, result.temperatureK)} (Chapman), ${stirlingWords(result.temperatureK, result.temperatureK)} (Stirling)`,
    ],
  ]
  return (
    <section class="card stack">
      <dl class="facts">
        {rows
          .filter((row) => row !== false)
          .map(([name, value]) => (
            <>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </>
          ))}
      </dl>
      {reading.notes !== '' && <p class={css.notes}>{reading.notes}</p>}
      {(reading.tags.length > 0 || object !== '' || series !== null) && (
        <ul class={css.chips} aria-label="Tags and more of the same">
          {reading.tags.map((tag) => (
            <li key={tag}>
              <button type="button" onClick={narrow({ tag })}>
                {tag}
              </button>
            </li>
          ))}
          {series !== null && (
            <li class="no-print">
              <button type="button" onClick={narrow({ series })}>
                All of {series}
              </button>
            </li>
          )}
          {object !== '' && (
            <li class="no-print">
              <a class="button" href={hrefOfPlace({ kind: 'series', object })}>
                {object} over time
              </a>
            </li>
          )}
        </ul>
      )}
    </section>
  )
}

/** What was applied to the photo when it was read: the parts that others may share. */
function appliedRows(reading: Reading): Row[] {
  const glow = storedGlow(currentInputs(reading))
  if (!glow) return []
  const { balanceState, balance, linearity, cameraId, references } = glow
  const heats = references.filter((reference) => reference.cameraId === cameraId)
  return [
    ['White balance', balanceWords(balanceState)],
    ['Grey card', balance ? lightWords(balance.light) : 'none'],
    ['Tone curve', LINEARITY_WORDS[linearity.kind]],
    ['Known heats', heats.map(({ name }) => name).join(', ') || 'none'],
  ]
}

/** Readings of which can be foretold what a next step would bring. */
const CAMERA_METHODS: readonly Reading['method'][] = ['photo', 'raw', 'sweep', 'live']

/** What the figure rests on. */
export function EntryDetails({ reading }: { reading: Reading }) {
  const result = currentResult(reading)
  const { chromaticity, parts } = reading
  const four = (value: number) => value.toFixed(4).replace('-', '−')
  return (
    <>
      {result.kind === 'temperature' && result.budget.length > 0 && (
        <details>
          <summary>What the ± is made of</summary>
          <div class="inside">
            <StoredBudget budget={result.budget} />
            <p class="small soft">
              Contributions with k = 2; their squares add up to{' '}
              {showPlusMinus(result.standardUncertaintyK)} (GUM, JCGM 100).
            </p>
            {CAMERA_METHODS.includes(reading.method) && (
              <a class="button no-print" href={`/reading/check/${reading.id}/remaining`}>
                What the next hour of work would bring
              </a>
            )}
          </div>
        </details>
      )}
      {parts.length > 0 && (
        <details>
          <summary>Readings it combines</summary>
          <ul class="inside plain-list">
            {parts.map((part) => (
              <li key={part.id}>
                <a class="button wide" href={hrefOfPlace({ kind: 'entry', id: part.id })}>
                  {partWords(part)}
                </a>
              </li>
            ))}
          </ul>
        </details>
      )}
      {hasMap(reading) && <StoredMapDetails reading={reading} />}
      {chromaticity && (
        <details>
          <summary>Colour (CIE)</summary>
          <div class="inside">
            <dl class="facts">
              <dt>x, y</dt>
              <dd>
                {four(chromaticity.x)}, {four(chromaticity.y)}
              </dd>
              <dt>u′, v′</dt>
              <dd>
                {four(chromaticity.u)}, {four(chromaticity.v)}
              </dd>
              {chromaticity.duv !== null && (
                <>
                  <dt>Duv</dt>
                  <dd>{four(chromaticity.duv)}</dd>
                </>
              )}
              {chromaticity.cctK !== null && (
                <>
                  <dt>Colour temperature, CIE</dt>
                  <dd>{showTemperature(chromaticity.cctK)}</dd>
                </>
              )}
            </dl>
          </div>
        </details>
      )}
    </>
  )
}
