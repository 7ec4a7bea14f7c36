/**
 * The reading and the references that count for it, put together as one linear problem with shared
 * errors as coefficients.
 */
import { type BalancedColour, balanceP3, balanceRawWithMatrix } from './balanced-colour.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { type CameraModel, type Coefficient, cameraModel, sameBalance } from './camera-model.ts'
import { type LeakRange, leakRanges } from './infrared-leak.ts'
import {
  colourTemperatureOf,
  type MeasuredRatio,
  measuredRatio,
  type SharedCurve,
} from './measured-ratio.ts'
import { meltEvents } from './melt-events.ts'
import { TONE_CURVES } from './tone-curve-prior.ts'
import type { ToneHypothesis } from './tone-hypothesis.ts'
import type {
  BalanceState,
  BudgetTerm,
  GlowInput,
  KnownHeatReference,
  ReferenceStatus,
} from './types.ts'

export interface UsedReference {
  readonly reference: KnownHeatReference
  readonly colour: BalancedColour
  readonly measured: MeasuredRatio
  /** Colour temperature of its surface, K. */
  readonly colourTemperatureK: number
  /** Factor on its own variance: above 1 for one that conflicts with the others. */
  readonly inflation: number
}

/** One range of what the camera's filter may leak, with the camera as it then is. */
export interface LeakingCamera {
  readonly leak: LeakRange
  readonly model: CameraModel
  /** The same camera behind a glass that passes this share of the infrared; 1 for none. */
  through(infrared: number): CameraModel
}

export interface GlowProblem {
  /** The camera without a leak and with faithful colours: scale, range and measure of temperature. */
  readonly model: CameraModel
  /** All that it may be; their coefficients are the same. */
  readonly cameras: readonly LeakingCamera[]
  readonly coefficients: readonly Coefficient[]
  readonly curves: readonly ToneHypothesis[]
  readonly colour: BalancedColour
  readonly reading: MeasuredRatio
  /** Further readings by this camera, whose shared errors have places here too. */
  readonly others: readonly MeasuredRatio[]
  readonly references: readonly UsedReference[]
  /** Why each of the others does not count. */
  readonly unused: readonly { reference: KnownHeatReference; status: ReferenceStatus }[]
  /** Position of each shared error among the coefficients. */
  readonly places: ReadonlyMap<string, number>
}

/** A reading; places of one photo name it, because its balance is one. */
export type PlaceInput = GlowInput & { readonly photo?: string }

const LINEAR: readonly ToneHypothesis[] = [
  { kind: 'ratio', contrast: 1, shoulder: 0, toe: 0, exponent: 1, weight: 1 },
]

/** Why a reference does not count for a reading; null where it does. */
export function referenceStatus(
  reference: KnownHeatReference,
  input: Pick<GlowInput, 'cameraId' | 'channels' | 'balanceState'>,
): ReferenceStatus | null {
  if (reference.cameraId !== input.cameraId) return 'other camera'
  if (reference.channels !== input.channels) return 'other channels'
  const fixed = (kind: string) => kind !== 'automatic' && kind !== 'unknown'
  if (!fixed(reference.balanceState.kind) || !fixed(input.balanceState.kind))
    return 'white balance not fixed'
  if (!sameBalance(reference.balanceState, input.balanceState)) return 'other white balance'
  return null
}

/**
 * Puts reading and references together. The reading's red must be above 0.
 *
 * @param others further readings by the same camera in the same state
 * @param leaks ranges of what its filter may leak; absent: the prior after the camera's own tests
 */
export function glowProblem(
  input: PlaceInput,
  locus: CameraLocus,
  others: readonly PlaceInput[] = [],
  leaks: readonly LeakRange[] = leakRanges(input.leakTests ?? []),
): GlowProblem {
  const matrix = input.channels === 'camera' ? input.cameraToXyz : null
  const managed = input.channels === 'display-p3' || matrix !== null
  const channels = managed ? 'display-p3' : 'camera'
  const model = cameraModel(locus, channels, input.balanceState)
  const cameras = leaks.map((leak) => {
    const rendered = isRendered(input)
    const through = (infrared: number) => {
      const left = { ...leak, mean: infrared * leak.mean, sd: infrared * leak.sd }
      return cameraModel(locus, channels, input.balanceState, { leak: left, rendered })
    }
    return { leak, model: through(1), through }
  })
  const held = lockHeld(input)
  const balanced = (photo: Pick<GlowInput, 'glow' | 'balance' | 'balanceState'>) =>
    matrix === null
      ? balanceP3(photo.glow, photo.balance, photo.balanceState)
      : balanceRawWithMatrix(photo.glow, photo.balance, matrix)

  const sharedCurve = sharedCurveOf(input)
  const colour = balanced(input)
  const measuredReading = (of: PlaceInput, seen: BalancedColour) =>
    measuredRatio(
      seen,
      {
        ...of,
        balanceState: held(of.balanceState),
        lnWindow: of.window?.lnGreenOverRed ?? 0,
        infrared: of.window?.infrared ?? 1,
        blueFloorShare: of.quality.floorShare[2],
      },
      model,
      sharedCurve,
    )
  const reading = measuredReading(input, colour)
  const beside = others.map((other) => measuredReading(other, balanced(other)))
  const references: UsedReference[] = []
  const unused: { reference: KnownHeatReference; status: ReferenceStatus }[] = []
  for (const reference of meltEvents(input.references.map(judged))) {
    const status = referenceStatus(reference, input)
    if (status !== null) {
      unused.push({ reference, status })
      continue
    }
    const seen = balanced(reference)
    const colourTemperatureK = colourTemperatureOf(
      reference.temperatureK,
      reference.surface.lnGreenOverRed,
    )
    const within = colourTemperatureK >= model.coldestK && colourTemperatureK <= model.hottestK
    // In a photo green at 0 is a bound; raw green may truly be negative after the matrix.
    const green = seen.green > 0 || (matrix !== null && model.scale === 'linear')
    if (!(within && green && reference.glow.mean[0] > 0)) {
      unused.push({ reference, status: 'out of range' })
      continue
    }
    const measured = measuredRatio(
      seen,
      {
        ...reference,
        balanceState: held(reference.balanceState),
        lnWindow: 0,
        infrared: 1,
        blueFloorShare: 0,
      },
      model,
      sharedCurve,
    )
    references.push({ reference, colour: seen, measured, colourTemperatureK, inflation: 1 })
  }
  const coefficients: Coefficient[] = [...cameras[0]!.model.coefficients]
  const places = new Map<string, number>()
  const place = (key: string, term: BudgetTerm) => {
    if (places.has(key)) return
    places.set(key, coefficients.length)
    coefficients.push({ term, tail: null })
  }
  const readings = [reading, ...beside].map((measured) => ({ measured, reference: null }))
  for (const { measured, reference } of [...readings, ...references]) {
    for (const { key, term } of measured.shared) place(key, term)
    if (measured.surface.piece !== undefined) place(pieceKey(measured.surface.piece), 'surface')
    if (reference?.group) place(groupKey(reference.group), 'reference temperature')
  }
  const curves =
    readings.some(isCorrected) || references.some(isCorrected) ? sharedCurve.curves : LINEAR
  return {
    model,
    cameras,
    coefficients,
    curves,
    colour,
    reading,
    others: beside,
    references,
    unused,
    places,
  }
}

/**
 * The uncertainty of a known heat is itself a judgement, known to a quarter of it: that is Student's t with 8
 * degrees of freedom (JCGM 100, eq. G.3), whose variance is 8/6 of the stated one (JCGM 101, 6.4.9).
 */
const JUDGEMENT = Math.sqrt(8 / 6)

const judged = (reference: KnownHeatReference): KnownHeatReference => ({
  ...reference,
  standardUncertaintyK: JUDGEMENT * reference.standardUncertaintyK,
})

/** A lock that was once seen to hold holds for all photos of its camera: it is one setting. */
function lockHeld({ balanceState, references, cameraId }: GlowInput) {
  const seen = [
    balanceState,
    ...references.filter((one) => one.cameraId === cameraId).map((one) => one.balanceState),
  ].filter(({ lock }) => lock === 'verified')
  return (state: BalanceState): BalanceState =>
    seen.some((other) => sameBalance(other, state)) ? { ...state, lock: 'verified' } : state
}

const isCorrected = ({ measured }: { readonly measured: MeasuredRatio }) =>
  measured.corrections.length > 0

export const pieceKey = (piece: string) => `piece ${piece}`

/** Whether the camera may have changed colours on the way to the file. */
export const isRendered = ({
  channels,
  linearity,
  balanceState,
  faithfulColours,
}: GlowInput): boolean =>
  channels === 'display-p3' &&
  linearity.kind !== 'raw' &&
  balanceState.kind !== 'raw' &&
  faithfulColours !== true

/** The unknown curve of the reading, else that of the first reference taken as a single photo. */
function sharedCurveOf(input: GlowInput): SharedCurve {
  for (const { linearity } of [input, ...input.references])
    if (linearity.kind === 'single') return { curveId: linearity.curveId, curves: TONE_CURVES }
  return { curveId: '', curves: TONE_CURVES }
}

export const groupKey = (group: string) => `group ${group}`
