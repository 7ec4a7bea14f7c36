/** Maps of bars whose true temperatures are known, by cameras that the locus has not seen. */

import { NORMAL_95 } from '../../src/estimate/budget.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { evenness } from '../../src/estimate/map/evenness.ts'
import {
  cellDifference,
  type HeatMap,
  heatMap,
  type MeasuredCells,
  measuredTemperatures,
} from '../../src/estimate/map/heat-map.ts'
import { linearityAt } from '../../src/estimate/map/level-of-colour.ts'
import type { GlowInput, Linearity } from '../../src/estimate/types.ts'
import type { Region } from '../../src/light/image.ts'
import { heatCells } from '../../src/light/map/heat-cells.ts'
import { measurePhoto } from '../../src/light/measure-photo.ts'
import { glowSpectrum, simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { dcSteps } from '../making/encode-jpeg.ts'
import { seedOf } from './bench.ts'
import type { TestedCamera, TestSet } from './cameras.ts'
import { inputOf, referenceOf, stateOf } from './conditions.ts'
import { type MapPhoto, type MapScene, photographMap, SAFE_RED } from './map-scene.ts'
import { exactCard, SALT, saltDrawn } from './paths.ts'
import { deliveredPatch, SENSOR } from './photograph.ts'
import { type Random, seeded } from './random.ts'
import { type CameraCurve, drawCurve } from './tone-curves.ts'

const WIDTH = 320
const HEIGHT = 128
/** Ends beyond the picture's middle, so that ends and sides are outlines. */
const BAR = { left: 30, top: 32, right: 290, bottom: 96 }
export const MIDDLE: Region = { shape: 'rectangle', x: 140, y: 48, width: 40, height: 32 }

export type Place = (x: number, y: number) => number

export interface MapKind {
  readonly name: string
  /** The bar's temperature, K, drawn once a photo. */
  readonly heat: (random: Random) => Place
  readonly emissivity?: (random: Random) => Place
  readonly coding: MapPhoto['coding']
  readonly curved: boolean
  readonly salt: boolean
}

/** 100 K along the bar. */
export const gradient = (): Place => (x) => 1123 + (100 * (x - BAR.left)) / (BAR.right - BAR.left)
const even = (random: Random): Place => {
  const kelvin = 1060 + 200 * random.uniform()
  return () => kelvin
}
/** A spot 3 to 30 pixels wide, 25 to 60 K hotter, with a soft rim. */
const spot = (random: Random): Place => {
  const [sd, rise] = [(3 + 27 * random.uniform()) / 2.355, 25 + 35 * random.uniform()]
  const [u, v] = [60 + 200 * random.uniform(), 50 + 28 * random.uniform()]
  return (x, y) => 1150 + rise * Math.exp(-((x - u) ** 2 + (y - v) ** 2) / (2 * sd * sd))
}
const flakes = (random: Random): Place => {
  const at = Array.from({ length: 4 }, () => ({
    u: 50 + 220 * random.uniform(),
    v: 40 + 48 * random.uniform(),
    radius: 5 + 12 * random.uniform(),
    factor: 0.6 + 0.25 * random.uniform(),
  }))
  return (x, y) => at.find(({ u, v, radius }) => Math.hypot(x - u, y - v) < radius)?.factor ?? 1
}
export const FINE = { quality: 95, halvedColour: false }
export const HALVED = { quality: 90, halvedColour: true }

export const MAPS: readonly MapKind[] = [
  { name: 'map, gradient', heat: gradient, coding: null, curved: false, salt: false },
  { name: 'map, gradient, salt', heat: gradient, coding: null, curved: false, salt: true },
  { name: 'map, gradient, JPEG', heat: gradient, coding: FINE, curved: false, salt: false },
  { name: 'map, gradient, 4:2:0', heat: gradient, coding: HALVED, curved: false, salt: false },
  { name: 'map, gradient, tone curve', heat: gradient, coding: HALVED, curved: true, salt: false },
  { name: 'map, spots', heat: spot, coding: null, curved: false, salt: false },
  { name: 'map, spots, 4:2:0', heat: spot, coding: HALVED, curved: false, salt: false },
  {
    name: 'map, flakes',
    heat: () => () => 1150,
    emissivity: flakes,
    coding: null,
    curved: false,
    salt: false,
  },
  { name: 'map, even', heat: even, coding: HALVED, curved: false, salt: false },
]

export interface MappedPhoto {
  readonly map: HeatMap
  readonly input: GlowInput
  readonly measured: MeasuredCells
  /** True temperature in the middle of a cell, K. */
  truthK(at: number): number
}

/** What photos of one view share. */
export interface View {
  /** By how many pixels the bar is displaced in the picture. */
  readonly moved: readonly [number, number]
  readonly card: NonNullable<GlowInput['balance']>
  readonly curve: CameraCurve | null
}

/** @param view null: a photo by itself */
export function mapped(
  set: TestSet,
  camera: TestedCamera,
  kind: MapKind,
  random: Random,
  view: View | null = null,
): MappedPhoto | null {
  const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
  const moved = view?.moved ?? [0, 0]
  const drawn = kind.heat(random)
  const heat: Place = (x, y) => drawn(x - moved[0], y - moved[1])
  const inBar = (x: number, y: number) =>
    x - moved[0] >= BAR.left &&
    x - moved[0] < BAR.right &&
    y - moved[1] >= BAR.top &&
    y - moved[1] < BAR.bottom
  const scene: MapScene = {
    width: WIDTH,
    height: HEIGHT,
    temperatureK: (x, y) => (inBar(x, y) ? heat(x, y) : 0),
    emissivity: kind.emissivity?.(random) ?? (() => 1),
  }
  const curve = view ? view.curve : kind.curved ? drawCurve('contrast', random) : null
  const image = photographMap(
    scene,
    {
      camera: simulated,
      red: SAFE_RED * (0.6 + 0.4 * random.uniform()),
      blur: 0.7 + 1.3 * random.uniform(),
      electrons: SENSOR.electrons,
      readNoise: SENSOR.readNoise,
      curve,
      coding: kind.coding,
    },
    random,
  )
  const chromaSubsampled = kind.coding?.halvedColour === true
  const measured = measurePhoto(image, MIDDLE, { chromaSubsampled })
  if (measured.refused) return null
  const linearity: Linearity = kind.curved
    ? { kind: 'single', curveId: 'its', storedLevels: measured.storedLevels, space: 'display-p3' }
    : { kind: 'linear' }
  const balance = view?.card ?? exactCard(simulated, SENSOR, random)
  const state = stateOf('daylight')
  const references = kind.salt
    ? [
        referenceOf(
          camera,
          SALT,
          balance,
          state,
          deliveredPatch(simulated, glowSpectrum(saltDrawn(random)), SENSOR, random),
        ),
      ]
    : []
  const input: GlowInput = inputOf(camera, balance, state, measured.glow, references, linearity)
  const estimate = estimateGlow(input, camera.locus)
  if (estimate.kind !== 'temperature') return null
  const cells = heatCells(toLinearLight(image), MIDDLE, {
    chromaSubsampled,
    codingSteps: kind.coding && dcSteps(kind.coding.quality),
    background: measured.background?.colour.mean ?? null,
  })
  const { columns, side } = cells
  const centre = (at: number): readonly [number, number] => [
    ((at % columns) + 0.5) * side,
    (Math.floor(at / columns) + 0.5) * side,
  ]
  const inRegion = (at: number) => {
    const [x, y] = centre(at)
    return (
      x > MIDDLE.x && x < MIDDLE.x + MIDDLE.width && y > MIDDLE.y && y < MIDDLE.y + MIDDLE.height
    )
  }
  const map = heatMap(cells, input, estimate, linearityAt(input, null), inRegion, camera.locus)
  return (
    map && {
      map,
      input,
      measured: measuredTemperatures(map, cells),
      truthK: (at) => heat(...centre(at)),
    }
  )
}

const PAIRS = 40

/** How a kind of map came out over cameras and draws. */
export interface MapScore {
  readonly name: string
  readonly maps: number
  readonly refused: number
  /** Of differences between two cells drawn at random. */
  readonly coverage95: number
  readonly rmsK: number
  readonly halfWidth95K: number
  /** Slope along the bar over its length, less the true one: mean and root mean square, K. */
  readonly gradientBiasK: number
  readonly gradientRmsK: number
  /** Maps in which a spot was told; in which one was told where a spot is. */
  readonly spotted: number
  readonly found: number
  /** Maps that told "surface, not heat". */
  readonly surface: number
}

export function scoreMaps(
  set: TestSet,
  kind: MapKind,
  { draws, cameras = set.cameras.length }: { readonly draws: number; readonly cameras?: number },
): MapScore {
  let [maps, refused, pairs, covered, squares, widths] = [0, 0, 0, 0, 0, 0]
  let [spotted, found, surface] = [0, 0, 0]
  const gradients: number[] = []
  for (const [index, camera] of set.cameras.slice(0, cameras).entries())
    for (let draw = 0; draw < draws; draw++) {
      const random = seeded(seedOf(index, kind.name, draw))
      const made = mapped(set, camera, kind, random)
      if (!made) {
        refused++
        continue
      }
      maps++
      const { map, truthK } = made
      const read = [...map.temperatureK.keys()].filter((at) => !Number.isNaN(map.temperatureK[at]!))
      for (let i = 0; i < PAIRS; i++) {
        const pick = () => read[Math.floor(random.uniform() * read.length)]!
        const [a, b] = [pick(), pick()]
        const { differenceK, standardUncertaintyK: u } = cellDifference(map, a, b)
        const error = differenceK - (truthK(b) - truthK(a))
        pairs++
        squares += error * error
        widths += NORMAL_95 * u
        if (Math.abs(error) <= NORMAL_95 * u) covered++
      }
      gradients.push(
        slopeAlong(map, read, (at) => map.temperatureK[at]!) - slopeAlong(map, read, truthK),
      )
      const said = evenness(map, made.measured, !kind.curved)
      if (said.spots.length > 0) spotted++
      const warmest = read.reduce((a, b) => (truthK(b) > truthK(a) ? b : a))
      if (said.spots.some(({ cells, rise }) => rise > 0 && cells.includes(warmest))) found++
      if (said.surface.length > 0) surface++
    }
  const mean = gradients.reduce((sum, g) => sum + g, 0) / gradients.length
  return {
    name: kind.name,
    maps,
    refused,
    coverage95: covered / pairs,
    rmsK: Math.sqrt(squares / pairs),
    halfWidth95K: widths / pairs,
    gradientBiasK: mean,
    gradientRmsK: Math.sqrt(gradients.reduce((sum, g) => sum + g * g, 0) / gradients.length),
    spotted,
    found,
    surface,
  }
}

/** Slope of a straight line over the bar's length, K. */
function slopeAlong(
  { columns, side }: HeatMap,
  read: readonly number[],
  value: (at: number) => number,
) {
  const x = (at: number) => ((at % columns) * side) / (BAR.right - BAR.left)
  const mean = (of: (at: number) => number) =>
    read.reduce((sum, at) => sum + of(at), 0) / read.length
  const [mx, mv] = [mean(x), mean(value)]
  return mean((at) => (x(at) - mx) * (value(at) - mv)) / mean((at) => (x(at) - mx) ** 2)
}
