import { useSignal } from '@preact/signals'
import { type FixedPointChoice, KNOWN_VALUE_RANGE_K } from '../../physics/fixed-points.ts'
import {
  crayonLimits,
  type ThermocoupleType,
  type ToleranceClass,
  thermocoupleLimits,
} from '../../physics/thermocouple.ts'
import {
  differenceFromUnit,
  differenceInUnit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../../physics/units.ts'
import { heatById } from '../../session/kit/subject.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { ATMOSPHERE_WORDS } from '../../ui/words/kit.ts'
import { STEEL_CLASS_WORDS } from '../../ui/words/known-heats.ts'

const tenth = (value: number) => Math.round(10 * value) / 10

/** What must be stated of a known heat: how it was covered, which steel, which value. */
export function HeatChoicePanel({
  choice,
  onChoice,
}: {
  choice: FixedPointChoice
  onChoice: (choice: FixedPointChoice) => void
}) {
  const points = heatById(choice.id)?.points
  if (points?.by === 'atmosphere') {
    return (
      <SelectField
        label="It melts in"
        of={(['open-air', 'covered'] as const).map((id) => [id, ATMOSPHERE_WORDS[id]])}
        value={choice.atmosphere ?? 'open-air'}
        onValue={(atmosphere) => onChoice({ ...choice, atmosphere })}
      />
    )
  }
  if (points?.by === 'steel class') {
    const known = (['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'] as const).filter(
      (steelClass) => points.points[steelClass],
    )
    return (
      <SelectField
        label="Steel"
        of={[
          ...(known.includes('unknown') ? [] : [['unknown', 'Choose the class'] as const]),
          ...known.map((id) => [id, STEEL_CLASS_WORDS[id]] as const),
        ]}
        value={choice.steelClass ?? 'unknown'}
        onValue={(steelClass) => onChoice({ ...choice, steelClass })}
      />
    )
  }
  return points?.by === 'value' ? <ByValue choice={choice} onChoice={onChoice} /> : null
}

const TYPES: readonly { type: ThermocoupleType; tolerance: ToleranceClass }[] = [
  { type: 'K', tolerance: 2 },
  { type: 'K', tolerance: 1 },
  { type: 'N', tolerance: 2 },
  { type: 'N', tolerance: 1 },
  { type: 'S', tolerance: 2 },
  { type: 'R', tolerance: 2 },
  { type: 'B', tolerance: 2 },
]

function ByValue({
  choice,
  onChoice,
}: {
  choice: FixedPointChoice
  onChoice: (choice: FixedPointChoice) => void
}) {
  const unit = temperatureUnit.value
  const symbol = UNIT_SYMBOLS[unit]
  const isCrayon = choice.id === 'crayon'
  /** Position in {@link TYPES}, the crayon's usual limits, or the person's own. */
  const limitsBy = useSignal<string>(isCrayon ? 'crayon' : '0')
  const limitsOf = (by: string, valueK: number | undefined): number | undefined => {
    if (by === 'own') return choice.limitsOfErrorK
    if (valueK === undefined) return undefined
    if (by === 'crayon') return crayonLimits(valueK)
    const of = TYPES[Number(by)]
    return of && thermocoupleLimits(of.type, of.tolerance, valueK)
  }
  const give = (valueK: number | undefined, limitsOfErrorK: number | undefined) =>
    onChoice({
      id: choice.id,
      ...(valueK === undefined ? {} : { valueK }),
      ...(limitsOfErrorK === undefined ? {} : { limitsOfErrorK }),
    })
  const [leastK, mostK] = KNOWN_VALUE_RANGE_K
  const { valueK, limitsOfErrorK } = choice
  const own = limitsBy.value === 'own'
  return (
    <div class="stack">
      <NumberField
        label={isCrayon ? `Value of the crayon, ${symbol}` : `It shows, ${symbol}`}
        value={valueK === undefined ? null : tenth(temperatureInUnit(valueK, unit))}
        min={Math.ceil(temperatureInUnit(leastK, unit))}
        max={Math.floor(temperatureInUnit(mostK, unit))}
        onValue={(typed) => {
          const next = typed === null ? undefined : temperatureFromUnit(typed, unit)
          give(next, limitsOf(limitsBy.peek(), next))
        }}
      />
      <SelectField
        label="Limits of error"
        of={[
          ...(isCrayon
            ? [['crayon', '± 1 % of the value'] as const]
            : TYPES.map(
                ({ type, tolerance }, i) => [`${i}`, `Type ${type}, class ${tolerance}`] as const,
              )),
          ['own', 'I state them'],
        ]}
        value={limitsBy.value}
        onValue={(by) => {
          limitsBy.value = by
          give(valueK, limitsOf(by, valueK))
        }}
      />
      {own ? (
        <NumberField
          label={`± ${symbol}`}
          value={
            limitsOfErrorK === undefined ? null : tenth(differenceInUnit(limitsOfErrorK, unit))
          }
          min={0}
          max={500}
          onValue={(typed) =>
            give(valueK, typed === null ? undefined : differenceFromUnit(typed, unit))
          }
        />
      ) : (
        valueK !== undefined &&
        (limitsOfErrorK === undefined ? (
          <p class="small soft">
            The standard gives no limits for this type so hot. State them yourself.
          </p>
        ) : (
          <p class="small soft">
            ± {differenceInUnit(limitsOfErrorK, unit).toFixed(1)} {symbol}
            {isCrayon ? ' (common practice)' : ' when new (IEC 60584-1); an old one may drift'}.
          </p>
        ))
      )}
    </div>
  )
}
