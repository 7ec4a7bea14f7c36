/**
 * What a glowing piece sends to an eye, a hand or a phone at some distance, and how long the published
 * limits of exposure allow it. An aid for planning, not an assessment of a workplace.
 */
import { blackbodyFractionBelow } from './blackbody-fraction.ts'
import { STEFAN_BOLTZMANN } from './constants.ts'

/** Infrared that reaches lens and cornea, m: ICNIRP 2013, IEC 62471 (780 to 3000 nm). */
const EYE_BAND_M = [780e-9, 3000e-9] as const

/** W m^-2 s^0.75 and W m^-2: ICNIRP 2013; IEC 62471:2006, 4.3.7; EN 14255-2. */
const EYE_DOSE = 18_000
const EYE_LASTING = 100
/** Up to here the eye's limit falls with time, s. */
const EYE_LONGEST_S = 1000
/** W m^-2 s^0.75: ICNIRP 2013; IEC 62471:2006, 4.3.8. Up to 10 s; beyond, no limit is published. */
const SKIN_DOSE = 20_000
const SKIN_LONGEST_S = 10

export interface GlowingPiece {
  readonly temperatureK: number
  /** Total emissivity, 0..1. */
  readonly emissivity: number
  /** Glowing area that faces the person, m². */
  readonly areaM2: number
}

export interface HeatAtDistance {
  /** W/m², all wavelengths. */
  readonly totalWm2: number
  /** W/m², 780 to 3000 nm. */
  readonly eyeWm2: number
  /** Until the eye's limit is reached, s; infinite where it may last all day. */
  readonly eyeSeconds: number
  /** Until the skin's limit is reached, s; null beyond the 10 s for which one is published. */
  readonly skinSeconds: number | null
}

/**
 * Share of the exitance of a piece that arrives at a distance, facing it: as of a small source, which
 * is never too little (a bar as long as the distance is taken 20 % too high), and never more than all.
 */
const arriving = (areaM2: number, distanceM: number) =>
  distanceM > 0 ? Math.min(1, areaM2 / (Math.PI * distanceM ** 2)) : 1

/** @param temperatureK K @returns W/m² of a black body, and the share of it from 780 to 3000 nm */
export function infraredExitance(temperatureK: number): {
  readonly totalWm2: number
  readonly eyeShare: number
} {
  const [from, to] = EYE_BAND_M
  return {
    totalWm2: STEFAN_BOLTZMANN * temperatureK ** 4,
    eyeShare: blackbodyFractionBelow(to, temperatureK) - blackbodyFractionBelow(from, temperatureK),
  }
}

/** @param distanceM from the piece, m, > 0 */
export function heatAtDistance(piece: GlowingPiece, distanceM: number): HeatAtDistance {
  const { totalWm2: black, eyeShare } = infraredExitance(piece.temperatureK)
  const totalWm2 = piece.emissivity * black * arriving(piece.areaM2, distanceM)
  const eyeWm2 = eyeShare * totalWm2
  return {
    totalWm2,
    eyeWm2,
    eyeSeconds: eyeLimitSeconds(eyeWm2),
    skinSeconds: skinLimitSeconds(totalWm2),
  }
}

/** @param eyeWm2 W/m², 780 to 3000 nm, at the eye */
export function eyeLimitSeconds(eyeWm2: number): number {
  if (eyeWm2 <= EYE_LASTING) return Number.POSITIVE_INFINITY
  return Math.min(EYE_LONGEST_S, (EYE_DOSE / eyeWm2) ** (4 / 3))
}

/** @param totalWm2 W/m², all wavelengths, on the skin */
export function skinLimitSeconds(totalWm2: number): number | null {
  const seconds = (SKIN_DOSE / totalWm2) ** (4 / 3)
  return seconds <= SKIN_LONGEST_S ? seconds : null
}

/** Distance beyond which the eye's limit is not reached in a day, m. */
export function allDayDistanceM({ temperatureK, emissivity, areaM2 }: GlowingPiece): number {
  const { totalWm2, eyeShare } = infraredExitance(temperatureK)
  return Math.sqrt((emissivity * totalWm2 * eyeShare * areaM2) / (Math.PI * EYE_LASTING))
}

/**
 * Scale numbers of infrared filters by the mean temperature of the source, °C at most.
 * Source: EN 171, table of typical applications, from memory.
 */
const INFRARED_SHADES = [
  ['4-1.2', 1050],
  ['4-1.4', 1070],
  ['4-1.7', 1090],
  ['4-2', 1110],
  ['4-2.5', 1140],
  ['4-3', 1210],
  ['4-4', 1290],
  ['4-5', 1390],
  ['4-6', 1500],
  ['4-7', 1650],
  ['4-8', 1800],
  ['4-9', 2000],
  ['4-10', 2150],
] as const

/** @returns null above the table: no filter of this kind is meant for it */
export function infraredShade(temperatureK: number): string | null {
  const celsius = temperatureK - 273.15
  return INFRARED_SHADES.find(([, upToC]) => celsius <= upToC)?.[0] ?? null
}
