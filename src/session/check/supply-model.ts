import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { Reading } from '../../log/schema/types.ts'
import type { Supply } from '../../physics/heat-balance/supply-power.ts'
import {
  type MeasuredShape,
  type ShapeTerm,
  type SupplyInput,
  type SupplyRefusal,
  type SupplyTemperature,
  supplyTemperature,
} from '../../physics/heat-balance/supply-temperature.ts'
import { type Estimate, materialById } from '../../physics/materials.ts'
import type { MeterReading } from '../../physics/meters.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import type { TypedMeasure } from '../typed-number.ts'
import { ELEMENTS, type ElementId, TERMS, type UsualTerm, usualUncertainty } from './elements.ts'

export interface SupplyForm {
  readonly element: ElementId
  /** Millimetres; turns as a count. */
  readonly measures: Readonly<Partial<Record<ShapeTerm, TypedMeasure>>>
  /** Empty: nobody has said it, and there is no answer. An id that is no material counts as grey. */
  readonly materialId: string
  /** Total emissivity stated by the person, where the surface has none. */
  readonly emissivity: TypedMeasure
  /** Watts, or volts and amperes, or all three. */
  readonly watts: TypedMeasure
  readonly volts: TypedMeasure
  readonly amperes: TypedMeasure
  readonly cutWave: boolean
  readonly share: TypedMeasure
  readonly roomC: TypedMeasure
  /** Share of the view that a guard or a tube takes, and how hot it is; what is usual when empty. */
  readonly coverShare: TypedMeasure
  readonly coverC: TypedMeasure
}

export const NOTHING: TypedMeasure = { value: null, plusMinus: null }

const FIRST: SupplyForm = {
  element: 'wire',
  measures: {},
  materialId: '',
  emissivity: NOTHING,
  watts: NOTHING,
  volts: NOTHING,
  amperes: NOTHING,
  cutWave: false,
  share: { value: 1, plusMinus: null },
  roomC: { value: 20, plusMinus: null },
  coverShare: NOTHING,
  coverC: NOTHING,
}

export interface SupplyModel {
  readonly form: Signal<SupplyForm>
  readonly input: ReadonlySignal<SupplyInput | null>
  /** Null while a number is missing. */
  readonly answer: ReadonlySignal<SupplyTemperature | SupplyRefusal | null>
  /** Takes over what the reading that is asked about says: its surface and supply. */
  begin(reading: Pick<Reading, 'material' | 'supply'>): void
}

const METRES_PER_MM = 1e-3

/** With the usual uncertainty where none was typed. */
function estimateOf(
  { value, plusMinus }: TypedMeasure,
  term: UsualTerm,
  scale = 1,
): Estimate | null {
  if (value === null) return null
  const uncertainty = plusMinus ?? usualUncertainty(term, value)
  return { value: value * scale, standardUncertainty: uncertainty * scale }
}

/** The accuracy was typed as one number: it takes the place of the data sheet's two. */
function meterOf(typed: TypedMeasure, term: UsualTerm): MeterReading | null {
  const found = estimateOf(typed, term)
  if (!found) return null
  const { value, standardUncertainty } = found
  const percentOfReading = value > 0 ? (100 * Math.sqrt(3) * standardUncertainty) / value : 0
  return { value, percentOfReading, digits: 0, resolution: 0 }
}

const surfaceOf = (id: string) =>
  id === '' ? null : (materialById(id) ?? materialById('grey-body') ?? null)

const kelvin = ({ value, standardUncertainty }: Estimate): Estimate => ({
  value: kelvinFromCelsius(value),
  standardUncertainty,
})

/** Null while less than the watts, or volts and amperes, is typed. */
function supplyOf({ watts, volts, amperes, cutWave }: SupplyForm): Supply | null {
  const w = meterOf(watts, 'watts')
  const v = meterOf(volts, 'volts')
  const a = meterOf(amperes, 'amperes')
  if (!w && !(v && a)) return null
  return {
    ...(w ? { watts: w } : {}),
    ...(v && a ? { volts: v, amperes: a } : {}),
    ...(cutWave ? { phaseCut: { meter: 'unknown' as const, supplyVolts: 230 } } : {}),
  }
}

function shieldOf({ element, coverShare, coverC }: SupplyForm): SupplyInput['shield'] | null {
  const usual = ELEMENTS[element].shield
  const share = estimateOf(coverShare, 'shield share') ?? usual?.share
  if (!share) return null
  const celsius = estimateOf(coverC, 'shield temperature') ?? usual?.celsius
  return {
    share,
    ...(celsius ? { temperature: kelvin(celsius) } : {}),
    ...(usual ? { airShare: usual.airShare } : {}),
  }
}

/** The form as the balance wants it; null while a number is missing. */
export function supplyInputOf(form: SupplyForm): SupplyInput | null {
  const { shape } = ELEMENTS[form.element]
  const measures: Partial<Record<ShapeTerm, Estimate>> = {}
  for (const term of TERMS[shape]) {
    const scale = term === 'turns' ? 1 : METRES_PER_MM
    const found = estimateOf(form.measures[term] ?? NOTHING, term, scale)
    if (!found) return null
    measures[term] = found
  }
  const object: MeasuredShape = { shape, ...measures }
  const surface = estimateOf(form.emissivity, 'emissivity') ?? surfaceOf(form.materialId)
  const room = estimateOf(form.roomC, 'room')
  const glowingShare = estimateOf(form.share, 'glowing share')
  const supply = supplyOf(form)
  if (!surface || !room || !glowingShare || !supply) return null
  const shield = shieldOf(form)
  return {
    object,
    surface,
    supply,
    glowingShare,
    room: kelvin(room),
    ...(shield ? { shield } : {}),
  }
}

export function createSupplyModel(): SupplyModel {
  const form = signal<SupplyForm>(FIRST)
  const input = computed(() => supplyInputOf(form.value))
  return {
    form,
    input,
    answer: computed(() => (input.value ? supplyTemperature(input.value) : null)),
    begin({ material, supply }) {
      const now = form.peek()
      const stated = (of: 'watts' | 'volts' | 'amperes') =>
        now[of].value === null ? { value: supply?.[of] ?? null, plusMinus: null } : now[of]
      form.value = {
        ...now,
        materialId: now.materialId || material,
        watts: stated('watts'),
        volts: stated('volts'),
        amperes: stated('amperes'),
      }
    },
  }
}
