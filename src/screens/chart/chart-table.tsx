import { useSignal } from '@preact/signals'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { showTemperature, temperatureUnit } from '../../ui/temperature.ts'
import { chapmanWords, stirlingWords } from '../../ui/words/heat-names.ts'
import { marksOf } from './marks.ts'

/** Degrees of the unit in use. */
const STEP = { C: 50, K: 50, F: 100 } as const

/** The chart as a table: for screen readers, and for those who want to read it off. */
export function ChartTable({ model }: { model: ChartModel }) {
  const open = useSignal(false)
  const { lowK, highK } = model.span.value
  const marks = marksOf(model.marks.value, model.materialIds.value)
  const rows: number[] = []
  if (open.value) {
    const unit = temperatureUnit.value
    const step = STEP[unit]
    const first = Math.ceil(temperatureInUnit(lowK, unit) / step - 1e-9) * step
    for (let value = first; temperatureFromUnit(value, unit) <= highK + 1e-9; value += step)
      rows.push(temperatureFromUnit(value, unit))
  }
  return (
    <details
      onToggle={(event) => {
        open.value = event.currentTarget.open
      }}
    >
      <summary>The chart as a table</summary>
      {open.value && (
        <div class="inside">
          <table class="numbers-table">
            <thead>
              <tr>
                <th scope="col">Heat</th>
                <th scope="col">Chapman</th>
                <th scope="col">Stirling</th>
                <th scope="col">x, y</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((temperatureK) => {
                const { xy } = model.swatchAt(temperatureK)
                return (
                  <tr key={temperatureK}>
                    <th scope="row">{showTemperature(temperatureK)}</th>
                    <td>{chapmanWords(temperatureK, temperatureK)}</td>
                    <td>{stirlingWords(temperatureK, temperatureK)}</td>
                    <td>{xy ? `${xy.x.toFixed(3)}, ${xy.y.toFixed(3)}` : ''}</td>
                  </tr>
                )
              })}
            </tbody>
          </table>
          {(marks.ranges.length > 0 || marks.points.length > 0) && (
            <table class="numbers-table">
              <thead>
                <tr>
                  <th scope="col">Mark</th>
                  <th scope="col">Heat</th>
                  <th scope="col">Source</th>
                </tr>
              </thead>
              <tbody>
                {marks.ranges.map(({ name, fromK, toK, column, source }) => (
                  <tr key={`${column}${name}`}>
                    <th scope="row">
                      {marks.columnNames[column] ? `${marks.columnNames[column]}: ` : ''}
                      {name}
                    </th>
                    <td>
                      {showTemperature(fromK)} to {showTemperature(toK)}
                    </td>
                    <td class="small soft">{source}</td>
                  </tr>
                ))}
                {marks.points.map(({ name, temperatureK, source }) => (
                  <tr key={`${name}${temperatureK}`}>
                    <th scope="row">{name}</th>
                    <td>{showTemperature(temperatureK)}</td>
                    <td class="small soft">{source}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </div>
      )}
    </details>
  )
}
