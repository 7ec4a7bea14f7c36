import { useSignal } from '@preact/signals'
import { type MagnetTest, narrowAlloy } from '../../physics/alloy.ts'
import { MeasureField, type Typed } from '../../ui/measure-field.tsx'
import { alloyWords } from '../../ui/words/check.ts'

const MAGNETS: readonly [MagnetTest | 'unknown', string][] = [
  ['unknown', 'Not tried'],
  ['sticks', 'Sticks'],
  ['weak', 'Hardly'],
  ['no', 'Does not'],
]
const NOTHING: Typed = { value: null, plusMinus: null }
const METRES_PER_MM = 1e-3

const estimateOf = ({ value, plusMinus }: Typed, scale = 1) =>
  value === null ? null : { value: value * scale, standardUncertainty: (plusMinus ?? 0) * scale }

/** Which alloys a magnet at room temperature and the cold resistance leave. */
export function AlloyPanel() {
  const magnet = useSignal<MagnetTest | 'unknown'>('unknown')
  const ohms = useSignal(NOTHING)
  const length = useSignal(NOTHING)
  const diameter = useSignal(NOTHING)
  const r = estimateOf(ohms.value)
  const l = estimateOf(length.value, METRES_PER_MM)
  const d = estimateOf(diameter.value, METRES_PER_MM)
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
        <div class="segments">
          {MAGNETS.map(([id, name]) => (
            <button
              key={id}
              type="button"
              aria-pressed={magnet.value === id}
              onClick={() => {
                magnet.value = id
              }}
            >
              {name}
            </button>
          ))}
        </div>
      </fieldset>
      <MeasureField
        label="Cold resistance, ohm"
        typed={ohms.value}
        min={0.0001}
        max={100000}
        onTyped={(typed) => {
          ohms.value = typed
        }}
      />
      <MeasureField
        label="Length of wire, mm"
        typed={length.value}
        min={1}
        max={1000000}
        onTyped={(typed) => {
          length.value = typed
        }}
      />
      <MeasureField
        label="Diameter of the wire, mm"
        typed={diameter.value}
        min={0.01}
        max={50}
        onTyped={(typed) => {
          diameter.value = typed
        }}
      />
      {asked && (
        <section class="stack" aria-live="polite">
          {answer.microOhmM && (
            <p>
              Resistivity {answer.microOhmM.value.toFixed(3)} ±{' '}
              {(2 * answer.microOhmM.standardUncertainty).toFixed(3)} µΩ m (k = 2).
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
