import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import {
  type MeasuredShape,
  type ShapeTerm,
  type SupplyInput,
  type SupplyRefusal,
  type SupplyTemperature,
  supplyTemperature,
} from '../../physics/heat-balance/supply-temperature.ts'
import { materialById } from '../../physics/materials.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import type { TypedMeasure } from '../typed-number.ts'

export type Shape = MeasuredShape['shape']
export const TERMS: Record<Shape, readonly ShapeTerm[]> = {
  wire: ['lengthM', 'diameterM'],
  coil: ['wireDiameterM', 'coilDiameterM', 'pitchM', 'turns'],
  ribbon: ['lengthM', 'widthM', 'thicknessM'],
  rod: ['lengthM', 'diameterM'],
}

export interface SupplyForm {
  readonly shape: Shape
  /** Millimetres; turns as a count. */
  readonly measures: Readonly<Partial<Record<ShapeTerm, TypedMeasure>>>
  readonly materialId: string
  /** Total emissivity stated by the person, where the surface has none. */
  readonly emissivity: TypedMeasure
  readonly by: 'watts' | 'volts and amperes'
  readonly watts: TypedMeasure
  readonly volts: TypedMeasure
  readonly amperes: TypedMeasure
  readonly cutWave: boolean
  readonly share: TypedMeasure
  readonly roomC: TypedMeasure
  /** Share of the view that a guard or a tube takes, and how hot it is; nothing when left empty. */
  readonly coverShare: TypedMeasure
  readonly coverC: TypedMeasure
}

const NOTHING: TypedMeasure = { value: null, plusMinus: null }

const FIRST: SupplyForm = {
  shape: 'wire',
  measures: {},
  materialId: 'nickel-chromium-oxidised',
  emissivity: NOTHING,
  by: 'volts and amperes',
  watts: NOTHING,
  volts: NOTHING,
  amperes: NOTHING,
  cutWave: false,
  share: { value: 1, plusMinus: 0.03 },
  roomC: { value: 20, plusMinus: 3 },
  coverShare: NOTHING,
  coverC: NOTHING,
}

export interface SupplyModel {
  readonly form: Signal<SupplyForm>
  readonly input: ReadonlySignal<SupplyInput | null>
  /** Null while a number is missing. */
  readonly answer: ReadonlySignal<SupplyTemperature | SupplyRefusal | null>
}

const METRES_PER_MM = 1e-3

/** A stated ± counts as the limits of a rectangular distribution would be too generous: standard. */
const estimateOf = ({ value, plusMinus }: TypedMeasure, scale = 1) =>
  value === null ? null : { value: value * scale, standardUncertainty: (plusMinus ?? 0) * scale }

/** The accuracy was typed as one number: it takes the place of the data sheet's two. */
const meterOf = ({ value, plusMinus }: TypedMeasure) =>
  value === null
    ? null
    : {
        value,
        percentOfReading: value > 0 ? (100 * Math.sqrt(3) * (plusMinus ?? 0)) / value : 0,
        digits: 0,
        resolution: 0,
      }

export function createSupplyModel(): SupplyModel {
  const form = signal<SupplyForm>(FIRST)
  const input = computed<SupplyInput | null>(() => {
    const { shape, measures, materialId, emissivity, by, share, roomC, cutWave } = form.value
    const object: Record<string, unknown> = { shape }
    for (const term of TERMS[shape]) {
      const found = estimateOf(measures[term] ?? NOTHING, term === 'turns' ? 1 : METRES_PER_MM)
      if (!found) return null
      object[term] = found
    }
    const stated = estimateOf(emissivity)
    const surface = stated ?? materialById(materialId)
    const room = estimateOf(roomC)
    const glowingShare = estimateOf(share)
    if (!surface || !room || !glowingShare) return null
    const watts = meterOf(form.value.watts)
    const volts = meterOf(form.value.volts)
    const amperes = meterOf(form.value.amperes)
    const supply =
      by === 'watts'
        ? watts && { watts }
        : volts &&
          amperes && {
            volts,
            amperes,
            ...(cutWave ? { phaseCut: { meter: 'unknown' as const, supplyVolts: 230 } } : {}),
          }
    if (!supply) return null
    const coverShare = estimateOf(form.value.coverShare)
    const coverC = estimateOf(form.value.coverC)
    const kelvin = (celsius: { value: number; standardUncertainty: number }) => ({
      value: kelvinFromCelsius(celsius.value),
      standardUncertainty: celsius.standardUncertainty,
    })
    return {
      object: object as unknown as MeasuredShape,
      surface,
      supply,
      glowingShare,
      room: kelvin(room),
      ...(coverShare
        ? { cover: { share: coverShare, ...(coverC ? { temperature: kelvin(coverC) } : {}) } }
        : {}),
    }
  })
  return {
    form,
    input,
    answer: computed(() => (input.value ? supplyTemperature(input.value) : null)),
  }
}
