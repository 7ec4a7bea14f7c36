/** What the estimate is told in each condition, as the bench draws it. */
import { xyFromXyz } from '../../src/colour/chromaticity.ts'
import { D65_K, daylightSpectrum } from '../../src/colour/daylight.ts'
import { ILLUMINANT_A_K, illuminantA, ledSpectrum, WARM_LED } from '../../src/colour/illuminants.ts'
import { planckianXy } from '../../src/colour/planckian-locus.ts'
import { type SpectralPower, xyzFromSpectrum } from '../../src/colour/xyz.ts'
import type {
  BalanceState,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
  Linearity,
  SurfaceSlope,
} from '../../src/estimate/types.ts'
import { lightColour } from '../../src/light/card-light.ts'
import type { LinearColour } from '../../src/light/image.ts'
import {
  glowSpectrum,
  type SimulatedBalance,
  type SimulatedCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import type { Matrix3, Triple } from '../../src/numerics/matrix3.ts'
import { LADDER_RUNGS_K } from '../../src/physics/lamp-ladder.ts'
import { deliveredPatch, p3OfXy, type Sensor } from './photograph.ts'
import type { Random } from './random.ts'

export interface Heat {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  /** How its error is drawn: normal, or evenly within limits (JCGM 100, 4.3.7). */
  readonly drawn: 'normal' | 'evenly'
}

/** The light on the grey card. */
export type Card = 'preset' | 'lamp' | 'led'

export interface Condition {
  readonly name: string
  readonly balance: SimulatedBalance
  readonly card: Card
  readonly heats: readonly Heat[]
}

const heat = (temperatureK: number, standardUncertaintyK: number): Heat => ({
  temperatureK,
  standardUncertaintyK,
  drawn: 'normal',
})
/** The same figure read as limits of error. */
const within = (temperatureK: number, limitK: number): Heat => ({
  temperatureK,
  standardUncertaintyK: limitK / Math.sqrt(3),
  drawn: 'evenly',
})
const LAMP = heat(2700, 25)
export const SALT = heat(1073.6, 6)
export const COPPER = heat(1357.8, 8)

export const CIE_LOCUS = 'cie locus'

export const CONDITIONS: readonly Condition[] = [
  { name: CIE_LOCUS, balance: 'daylight', card: 'preset', heats: [] },
  { name: 'grey card', balance: 'daylight', card: 'preset', heats: [] },
  { name: 'lamp', balance: 'daylight', card: 'preset', heats: [LAMP] },
  {
    name: 'lamp ladder',
    balance: 'daylight',
    card: 'preset',
    heats: [LAMP, heat(2200, 25), heat(1800, 30), heat(1450, 30)],
  },
  {
    name: 'lamp ladder of ten',
    balance: 'daylight',
    card: 'preset',
    heats: LADDER_RUNGS_K.map((rungK) => heat(rungK, 0.012 * rungK)),
  },
  { name: 'salt', balance: 'daylight', card: 'preset', heats: [SALT] },
  { name: 'salt and lamp', balance: 'daylight', card: 'preset', heats: [SALT, LAMP] },
  { name: 'copper', balance: 'daylight', card: 'preset', heats: [COPPER] },
  { name: 'magnet', balance: 'daylight', card: 'preset', heats: [heat(1043, 15)] },
  { name: 'grey card A', balance: 'lamp', card: 'preset', heats: [] },
  { name: 'card under lamp', balance: 'daylight', card: 'lamp', heats: [] },
  { name: 'card under led', balance: 'daylight', card: 'led', heats: [] },
  {
    name: 'salt within limits',
    balance: 'daylight',
    card: 'preset',
    heats: [within(SALT.temperatureK, 6)],
  },
  {
    name: 'copper within limits',
    balance: 'daylight',
    card: 'preset',
    heats: [within(COPPER.temperatureK, 8)],
  },
]

/** Switched off here and in the budget: surface and window. */
const GREY_BODY: SurfaceSlope = { id: 'grey', lnGreenOverRed: 0, standardUncertainty: 0 }
const LED = ledSpectrum(WARM_LED)
const CARD_LAMP = LAMP

interface CardPhoto {
  readonly colour: LinearColour
  readonly balance: GreyBalance
}

/** A grey card photographed, and the gains found on it. */
export function cardBalance(
  condition: Pick<Condition, 'balance' | 'card'>,
  photograph: (spectrum: SpectralPower) => LinearColour,
  random: Random,
): CardPhoto {
  const { card, balance } = condition
  if (card === 'preset') {
    const spectrum = balance === 'daylight' ? daylightSpectrum(D65_K) : illuminantA
    const kelvin = balance === 'daylight' ? D65_K : ILLUMINANT_A_K
    const white: Triple =
      balance === 'daylight'
        ? [1, 1, 1]
        : p3OfXy(planckianXy(ILLUMINANT_A_K).x, planckianXy(ILLUMINANT_A_K).y)
    const colour = photograph(spectrum)
    return {
      colour,
      balance: gains(colour, white, [0, 0, 0], {
        kind: balance === 'daylight' ? 'daylight' : 'filament',
        colourTemperatureK: kelvin,
        standardUncertaintyK: 0,
      }),
    }
  }
  if (card === 'lamp') {
    const { temperatureK, standardUncertaintyK } = CARD_LAMP
    const colour = photograph(glowSpectrum(temperatureK + random.normal() * standardUncertaintyK))
    const at = (kelvin: number) => p3OfXy(planckianXy(kelvin).x, planckianXy(kelvin).y)
    const white = at(temperatureK)
    const [hot, cold] = [at(temperatureK + 5), at(temperatureK - 5)]
    const spread = (c: 1 | 2) =>
      (Math.log(hot[c] / hot[0] / (cold[c] / cold[0])) / 10) * standardUncertaintyK
    return {
      colour,
      balance: gains(colour, white, [0, spread(1), spread(2)], {
        kind: 'filament',
        colourTemperatureK: temperatureK,
        standardUncertaintyK,
      }),
    }
  }
  const colour = photograph(LED)
  const xy = xyFromXyz(xyzFromSpectrum(LED))!
  const { spectral } = lightColour({ kind: 'measured', ...xy, standardUncertainty: 0 })
  return {
    colour,
    balance: gains(colour, p3OfXy(xy.x, xy.y), [0, spectral.green, spectral.blue], {
      kind: 'other',
      colourTemperatureK: 2700,
      standardUncertaintyK: 0,
    }),
  }
}

function gains(
  card: LinearColour,
  white: Triple,
  spread: Triple,
  light: GreyBalance['light'],
): GreyBalance {
  const log = ([0, 1, 2] as const).map((c) => Math.log(white[c] / card.mean[c]))
  const covariance = [0, 1, 2].map((i) =>
    [0, 1, 2].map(
      (j) => card.covariance[i]![j]! / (card.mean[i]! * card.mean[j]!) + spread[i]! * spread[j]!,
    ),
  ) as unknown as Matrix3
  return { id: 'card', logGains: log as unknown as Triple, covariance, light }
}

export const stateOf = (balance: SimulatedBalance): BalanceState => ({
  kind: balance,
  colourTemperatureK: null,
  lock: 'verified',
})

/** A whole input to the estimate, before its glow is filled in. */
export function inputOf(
  camera: { readonly name: string },
  balance: GreyBalance,
  state: BalanceState,
  glow: LinearColour,
  references: readonly KnownHeatReference[],
  linearity: Linearity = { kind: 'linear' },
): GlowInput {
  return {
    glow,
    channels: 'display-p3',
    cameraToXyz: null,
    faithfulColours: true,
    balance,
    balanceState: state,
    linearity,
    quality: {
      clippedShare: 0,
      floorShare: [0, 0, 0],
      backgroundShare: 0,
      glowWidthPixels: 100,
      chromaSubsampled: false,
    },
    surface: GREY_BODY,
    window: null,
    cameraId: camera.name,
    takenAt: null,
    references,
  }
}

export function referenceOf(
  camera: { readonly name: string },
  heatSource: Omit<Heat, 'drawn'>,
  balance: GreyBalance,
  state: BalanceState,
  glow: LinearColour,
  linearity: Linearity = { kind: 'linear' },
): KnownHeatReference {
  return {
    id: `${heatSource.temperatureK}`,
    name: `${heatSource.temperatureK} K`,
    cameraId: camera.name,
    takenAt: '2000-01-01T00:00:00Z',
    temperatureK: heatSource.temperatureK,
    standardUncertaintyK: heatSource.standardUncertaintyK,
    glow,
    channels: 'display-p3',
    balance,
    balanceState: state,
    linearity,
    surface: GREY_BODY,
    group: null,
  }
}

function errorK({ standardUncertaintyK, drawn }: Heat, random: Random): number {
  if (drawn === 'normal') return random.normal() * standardUncertaintyK
  return (2 * random.uniform() - 1) * Math.sqrt(3) * standardUncertaintyK
}

/** One draw of a condition: card and references photographed, then a reading at each temperature. */
export function drawInputs(
  camera: { readonly name: string; readonly simulated: SimulatedCamera },
  condition: Condition,
  temperaturesK: readonly number[],
  sensor: Sensor,
  random: Random,
): GlowInput[] {
  const photograph = (spectrum: SpectralPower) =>
    deliveredPatch(camera.simulated, spectrum, sensor, random)
  const state = stateOf(condition.balance)
  const { balance } = cardBalance(condition, photograph, random)
  const references = condition.heats.map((source) => {
    const trueK = source.temperatureK + errorK(source, random)
    return referenceOf(camera, source, balance, state, photograph(glowSpectrum(trueK)))
  })
  return temperaturesK.map((temperatureK) =>
    inputOf(camera, balance, state, photograph(glowSpectrum(temperatureK)), references),
  )
}
