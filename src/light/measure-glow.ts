import type { Triple } from '../numerics/matrix3.ts'
import { type Background, measureBackground, subtract } from './background-ring.ts'
import type { CodingSteps } from './exposure-sweep/frame-levels.ts'
import { byWeight, type LightFinding } from './finding.ts'
import { findHalo, type Halo } from './halo.ts'
import type { LightImage, LinearColour, Region } from './image.ts'
import { measurePatch, type Patch } from './patch.ts'
import { glowWidthPixels, isThin } from './thin-glow.ts'
import { measureUnevenness, type Unevenness } from './unevenness.ts'

export type GlowFinding = LightFinding<
  | 'empty'
  | 'too small'
  | 'clipped'
  | 'some clipped'
  | 'dark'
  | 'not redder than green'
  | 'green at floor'
  | 'blue at floor'
  | 'background'
  | 'background not seen'
  | 'uneven'
  | 'thin glow'
  | 'halo'
>

/** What the estimate wants to know about the pixels (see estimate/types, RegionQuality). */
export interface GlowQuality {
  readonly clippedShare: number
  readonly floorShare: Triple
  /** Background over what is left of the glow, red channel. */
  readonly backgroundShare: number
  readonly glowWidthPixels: number
  readonly chromaSubsampled: boolean
  /** Standard uncertainty of ln(G/R) by the halo at the glow's edge; absent where none shows. */
  readonly haloLnRatio?: number
}

/** A region of a picture measured: plain data, can be stored and sent between threads. */
export interface GlowMeasurement {
  readonly region: Region
  /** Background taken off; meaningless where {@link refused}. */
  readonly glow: LinearColour
  readonly patch: Patch
  /** Null where the picture shows no dark surroundings; then nothing was taken off. */
  readonly background: Background | null
  readonly unevenness: Unevenness
  readonly quality: GlowQuality
  /** In order of weight. */
  readonly findings: readonly GlowFinding[]
  /** No number may be made from this region. */
  readonly refused: boolean
}

export interface GlowOptions {
  /** The file stores colour at half resolution (4:2:0 and the like). */
  readonly chromaSubsampled: boolean
  /** By which the file coded its codes; null or absent: not known, or no codes. */
  readonly codingSteps?: CodingSteps | null
}

/** Background from this share of the glow on is worth a warning. */
const BACKGROUND_SHARE = 0.03
/** Share of floor pixels from which a channel's mean is an upper bound rather than a value. */
const FLOOR_SHARE = 0.05
/** Spread of ln(G/R) that is shown: 17 K at 1173 K (Planck in Display P3: 0.0029 a kelvin). */
const UNEVEN = 0.05
/** Uncertainty of ln(G/R) by a halo that is worth a word: 3 K at 1173 K. */
const HALO = 0.01
/** Linear red below this is no light to measure: 8-bit codes up to 6. */
const DARK_LEVEL = 0.002

/** Measures the glow in a region: mean colour without background, its quality, what to warn of. */
export function measureGlow(
  image: LightImage,
  region: Region,
  options: GlowOptions,
): GlowMeasurement {
  const patch = measurePatch(image, region, options.codingSteps ?? null)
  const background =
    patch.refusal === null ? measureBackground(image, region, patch.colour.mean) : null
  const glow = background ? subtract(patch.colour, background.colour) : patch.colour
  const widthPixels = glowWidthPixels(image, region, patch.colour.mean)
  const unevenness = measureUnevenness(image, region, background?.colour ?? null)
  // Raw pixels are not sharpened.
  const drawn = patch.refusal === null && image.channels === 'display-p3'
  const halo = drawn ? findHalo(image, region, patch.colour.mean[0]) : null
  const quality: GlowQuality = {
    clippedShare: patch.clippedShare,
    floorShare: patch.floorShare,
    backgroundShare: background?.share[0] ?? 0,
    glowWidthPixels: widthPixels,
    chromaSubsampled: options.chromaSubsampled,
    ...(halo && { haloLnRatio: halo.lnRatio }),
  }
  const findings = byWeight(findingsOf(patch, glow, background, unevenness, quality, halo))
  const refused = findings.some((f) => f.weight === 'refusal')
  return { region, glow, patch, background, unevenness, quality, findings, refused }
}

function findingsOf(
  patch: Patch,
  glow: LinearColour,
  background: Background | null,
  unevenness: Unevenness,
  quality: GlowQuality,
  halo: Halo | null,
): GlowFinding[] {
  const findings: GlowFinding[] = []
  const add = (
    code: GlowFinding['code'],
    weight: GlowFinding['weight'],
    values: GlowFinding['values'] = {},
  ) => findings.push({ code, weight, values })

  if (patch.refusal !== null) {
    add(patch.refusal, 'refusal', { pixels: patch.pixels, share: patch.clippedShare })
    return findings
  }
  const [red, green] = glow.mean
  if (!(red > DARK_LEVEL)) {
    add('dark', 'refusal', { level: red })
    return findings
  }
  if (green >= red) add('not redder than green', 'warning', { greenOverRed: green / red })
  if (patch.clippedShare > 0) add('some clipped', 'note', { share: patch.clippedShare })
  const [, greenFloor, blueFloor] = patch.floorShare
  if (greenFloor > FLOOR_SHARE) add('green at floor', 'warning', { share: greenFloor })
  if (blueFloor > FLOOR_SHARE) add('blue at floor', 'note', { share: blueFloor })
  if (background === null) add('background not seen', 'note')
  else if (Math.max(background.share[0], background.share[1]) > BACKGROUND_SHARE) {
    add('background', 'warning', {
      redShare: background.share[0],
      greenShare: background.share[1],
      ...(background.tint ?? {}),
    })
  }
  if (unevenness.lnGreenOverRedSd > UNEVEN) {
    add('uneven', 'warning', { lnGreenOverRedSd: unevenness.lnGreenOverRedSd })
  }
  if (isThin(quality.glowWidthPixels, quality.chromaSubsampled)) {
    add('thin glow', 'warning', { widthPixels: quality.glowWidthPixels })
  }
  if (halo && halo.lnRatio > HALO) {
    add('halo', 'warning', { overshoot: halo.overshoot, reachPixels: halo.reachPixels })
  }
  return findings
}
