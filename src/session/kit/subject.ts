/** What a kit photo shows: something whose temperature is known, and how it came to be known. */
import type { SurfaceSlope } from '../../estimate/types.ts'
import {
  type FixedPoint,
  type FixedPointChoice,
  type FixedPointId,
  type FixedPointRefusal,
  fixedPointTemperature,
  KNOWN_HEATS,
} from '../../physics/fixed-points.ts'
import { LAMP_TARGETS, type LampTargetId } from '../../physics/lamp-targets.ts'
import { colourIsUsable, MATERIALS, type Material } from '../../physics/materials.ts'
import type { Origin } from './kit-data.ts'

/** A lamp at one setting, measured. */
export interface LampSubject {
  readonly kind: 'lamp'
  /** Shared by all photos of this lamp: their temperatures err together. */
  readonly lampId: string
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
  readonly target: LampTargetId
  /** Everything else that is kept with the reference. */
  readonly origin: Extract<Origin, { kind: 'lamp' }>
}

export interface HeatSubject {
  readonly kind: 'known heat'
  readonly choice: FixedPointChoice
}

export type Subject = HeatSubject | LampSubject

export interface SubjectTemperature {
  readonly ok: true
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

export function subjectTemperature(subject: Subject): SubjectTemperature | FixedPointRefusal {
  if (subject.kind === 'known heat') return fixedPointTemperature(subject.choice)
  const { colourTemperatureK, standardUncertaintyK } = subject
  return { ok: true, temperatureK: colourTemperatureK, standardUncertaintyK }
}

export function subjectOrigin(subject: Subject): Origin {
  if (subject.kind === 'lamp') return subject.origin
  const { id, atmosphere, steelClass, valueK, limitsOfErrorK } = subject.choice
  return {
    kind: 'known heat',
    id,
    atmosphere: atmosphere ?? null,
    steelClass: steelClass ?? null,
    valueK: valueK ?? null,
    limitsOfErrorK: limitsOfErrorK ?? null,
  }
}

/**
 * References whose temperatures err together share an id: one lamp, one thermocouple. Melting points
 * err by how they were watched, each for itself.
 */
export function subjectGroup(subject: Subject): string | null {
  if (subject.kind === 'lamp') return subject.lampId
  return subject.choice.id === 'thermocouple' ? 'thermocouple' : null
}

export const heatById = (id: string): FixedPoint | undefined =>
  KNOWN_HEATS.find((heat) => heat.id === id)
export const isFixedPointId = (id: string): id is FixedPointId => heatById(id) !== undefined

/**
 * Surfaces beside a known heat: an oxidised carrier or a cavity, nothing bright. A clean metal bead
 * reads hundreds of kelvin hot.
 */
export const CARRIERS: readonly Material[] = MATERIALS.filter(
  (material) =>
    colourIsUsable(material) &&
    material.id !== 'tungsten-bare' &&
    !material.effects.includes('colour reads hot slope unknown'),
)

/** A lamp's colour temperature counts as that of a grey body; its target may add a slope. */
export function lampSurface(target: LampTargetId): SurfaceSlope {
  const found = LAMP_TARGETS.find(({ id }) => id === target)
  return {
    id: `lamp ${target}`,
    lnGreenOverRed: 0,
    standardUncertainty: found?.slopeUncertainty ?? 0.03,
  }
}

export function subjectName(subject: Subject): string {
  if (subject.kind === 'known heat') return heatById(subject.choice.id)?.name ?? subject.choice.id
  return `${subject.origin.lampName}, ${subject.colourTemperatureK.toFixed(0)} K`
}

/** Where its photo is placed, below /kit/. */
export const subjectAddress = (subject: Subject): string =>
  subject.kind === 'lamp' ? 'lamp-photo' : `known-heat/${subject.choice.id}`
