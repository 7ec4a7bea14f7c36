import { useSignal } from '@preact/signals'
import { type MagnetTest, narrowAlloy } from '../../physics/alloy.ts'
import { type UsualTerm, usualUncertainty } from '../../session/check/elements.ts'
import type { TypedMeasure } from '../../session/typed-number.ts'
import { MeasureField } from '../../ui/measure-field.tsx'
import { plainNumber } from '../../ui/plain-number.ts'
import { Segments } from '../../ui/segments.tsx'
import { alloyWords } from '../../ui/words/check.ts'

const MAGNETS: readonly [MagnetTest | 'unknown', string][] = [
  ['unknown', 'Not tried'],
  ['sticks', 'Sticks'],
  ['weak', 'Hardly'],
  ['no', 'Does not'],
]
const NOTHING: TypedMeasure = { value: null, plusMinus: null }
const METRES_PER_MM = 1e-3

/** With what is usual where the ± was left empty. */
const estimateOf = ({ value, plusMinus }: TypedMeasure, term: UsualTerm, scale = 1) =>
  value === null
    ? null
    : {
        value: value * scale,
        standardUncertainty: (plusMinus ?? usualUncertainty(term, value)) * scale,
      }

/** Which alloys a magnet at room temperature and the cold resistance leave. */
export function AlloyPanel() {
  const magnet = useSignal<MagnetTest | 'unknown'>('unknown')
  const ohms = useSignal(NOTHING)
  const length = useSignal(NOTHING)
  const diameter = useSignal(NOTHING)
  const measures = [
    ['Cold resistance, ohm', 'ohms', ohms, 0.0001, 100000],
    ['Length of wire, mm', 'lengthM', length, 1, 1000000],
    ['Diameter of the wire, mm', 'wireDiameterM', diameter, 0.01, 50],
  ] as const
  const r = estimateOf(ohms.value, 'ohms')
  const l = estimateOf(length.value, 'lengthM', METRES_PER_MM)
  const d = estimateOf(diameter.value, 'wireDiameterM', METRES_PER_MM)
  const answer = narrowAlloy({
    ...(magnet.value === 'unknown' ? {} : { magnet: magnet.value }),
    ...(r && l && d ? { resistance: { ohms: r, lengthM: l, section: { diameterM: d } } } : {}),
  })
  const asked = magnet.value !== 'unknown' || answer.microOhmM
  return (
    <section class="stack">
      <p class="card small">
        Cold and disconnected only. Take off the resistance of the test leads.
      </p>
      <fieldset class="unit-picker">
        <legend class="soft small">A magnet on the cold wire</legend>
        <Segments
          of={MAGNETS}
          chosen={magnet.value}
          onChoose={(test) => {
            magnet.value = test
          }}
        />
      </fieldset>
      {measures.map(([label, term, typed, min, max]) => (
        <MeasureField
          key={label}
          label={label}
          typed={typed.value}
          min={min}
          max={max}
          usual={{ plusMinus: typed.value.value && usualUncertainty(term, typed.value.value) }}
          onTyped={(next) => {
            typed.value = next
          }}
        />
      ))}
      {asked && (
        <section class="stack" aria-live="polite">
          {answer.microOhmM && (
            <p>
              Resistivity{' '}
              {plainNumber(answer.microOhmM.value, 2 * answer.microOhmM.standardUncertainty)} ±{' '}
              {plainNumber(2 * answer.microOhmM.standardUncertainty)} µΩ m (k = 2).
            </p>
          )}
          <h2>{alloyWords(answer)}</h2>
          <ul class="stack">
            {answer.left.map(({ alloy }) => (
              <li key={alloy.id}>
                {alloy.name} <span class="soft">({alloy.microOhmM} µΩ m)</span>
              </li>
            ))}
          </ul>
          <p class="small soft">
            Common practice: iron-chromium-aluminium sticks to a magnet, nickel-chromium does not.
          </p>
        </section>
      )}
    </section>
  )
}
