/**
 * Whether hot spots are told, and none where there is none: JPEG bars of many qualities by many cameras,
 * on the true scale of each, so that only the file's noise and coding err.
 */
import { evenness } from '../../src/estimate/map/evenness.ts'
import { type HeatMap, heatMapOn, measuredTemperatures } from '../../src/estimate/map/heat-map.ts'
import type { HeatScale } from '../../src/estimate/map/heat-scale.ts'
import type { StandingOut } from '../../src/estimate/map/stand-out.ts'
import type { Region } from '../../src/light/image.ts'
import { heatCells } from '../../src/light/map/heat-cells.ts'
import { smoothCells } from '../../src/light/map/smooth-cells.ts'
import {
  deliveredP3,
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { dcSteps } from '../making/encode-jpeg.ts'
import { readCameras, readTraining } from '../measured-data.ts'
import { seedOf } from './bench.ts'
import { photographMap, SAFE_RED } from './map-scene.ts'
import { SENSOR } from './photograph.ts'
import { seeded } from './random.ts'

const CAMERAS = readCameras()
const TRAINING = readTraining()
const WIDTH = 224
const HEIGHT = 96
/** Pixels; laid anywhere against the blocks. */
const BAR = { left: 10, top: 10, width: 192, height: 64 }
const SHIFT = 12
const MIDDLE: Region = { shape: 'rectangle', x: 92, y: 36, width: 40, height: 24 }

export interface SpotTrial {
  readonly quality: number
  readonly halvedColour: boolean
  readonly temperatureK: number
  /** Of the true spot: rise at its peak, K, and width at half height, pixels. */
  readonly riseK: number
  readonly widthPixels: number
  readonly told: readonly StandingOut[]
  /** Parts that are told as surface, of which there is one over all. */
  readonly surface: number
  /** One of them, hot, lies where the true one is. */
  readonly found: boolean
  /** What the map says can be told, K. */
  readonly leastK: number
}

/** One bar; without `spotted` it is even. */
export function spotTrial(index: number, spotted: boolean): SpotTrial {
  const random = seeded(seedOf(index, spotted ? 'spotted' : 'evenly hot', 0))
  const camera = simulateCamera(CAMERAS[index % CAMERAS.length]!, TRAINING, 'daylight')
  const temperatureK = 1000 + 250 * random.uniform()
  const quality = Math.round(80 + 15 * random.uniform())
  const halvedColour = random.uniform() < 0.5
  const riseK = spotted ? 60 + 90 * random.uniform() : 0
  const widthPixels = 10 + 20 * random.uniform()
  const [u, v] = [50 + 124 * random.uniform(), 38 + 20 * random.uniform()]
  const sd = widthPixels / 2.355
  const [left, top] = [BAR.left + SHIFT * random.uniform(), BAR.top + SHIFT * random.uniform()]
  const inBar = (x: number, y: number) =>
    x >= left && x < left + BAR.width && y >= top && y < top + BAR.height
  const image = photographMap(
    {
      width: WIDTH,
      height: HEIGHT,
      temperatureK: (x, y) =>
        inBar(x, y)
          ? temperatureK + riseK * Math.exp(-((x - u) ** 2 + (y - v) ** 2) / (2 * sd * sd))
          : 0,
      emissivity: () => 1,
    },
    {
      camera,
      red: SAFE_RED * (0.4 + 0.6 * random.uniform()),
      blur: 0.7 + 1.3 * random.uniform(),
      electrons: SENSOR.electrons * (0.2 + 0.8 * random.uniform()),
      readNoise: SENSOR.readNoise,
      curve: null,
      coding: { quality, halvedColour },
    },
    random,
  )
  const cells = heatCells(toLinearLight(image), MIDDLE, {
    chromaSubsampled: halvedColour,
    codingSteps: dcSteps(quality),
    background: null,
  })
  const map = heatMapOn(trueScale(camera, temperatureK), cells, smoothCells(cells))
  const { spots, surface, leastSpot } = evenness(map, measuredTemperatures(map, cells), true)
  const place = placeOf(map, u, v)
  return {
    quality,
    halvedColour,
    temperatureK,
    riseK,
    widthPixels,
    told: spots,
    surface: surface.length,
    found: spots.some(({ rise, cells: part }) => rise > 0 && part.includes(place)),
    leastK: leastSpot!.riseK!,
  }
}

const placeOf = ({ columns, side }: HeatMap, x: number, y: number) =>
  Math.floor(y / side) * columns + Math.floor(x / side)

const AWAY_K = [-150, -75, 0, 75, 150, 225]

/** Temperature over ln(G/R) as this camera has it. */
function trueScale(camera: SimulatedCamera, temperatureK: number): HeatScale {
  const x = AWAY_K.map((away) => {
    const [r, g] = deliveredP3(camera, glowSpectrum(temperatureK + away))
    return Math.log(g / r)
  })
  return {
    temperatureK,
    commonK: 0,
    common95K: 0,
    at: { lnRatio: x[2]!, lnRed: 0 },
    byRatio: { x, overK: AWAY_K, leaningK: AWAY_K.map(() => 0) },
    byLevel: null,
  }
}

/** How many bars of each kind, and how many told it right. */
export interface SpotScore {
  readonly bars: number
  /** Even bars that told any spot. */
  readonly falselyTold: number
  /** Of as many bars with a spot. */
  readonly found: number
  /** Of all bars, even or with a spot, that told another surface. */
  readonly surfaceTold: number
}

/** Bars before this one chose the thresholds. */
const FIRST = 1000

export function scoreSpots(bars: number): SpotScore {
  let [falselyTold, found, surfaceTold] = [0, 0, 0]
  for (let index = FIRST; index < FIRST + bars; index++) {
    const [even, spotted] = [spotTrial(index, false), spotTrial(index, true)]
    if (even.told.length > 0) falselyTold++
    if (spotted.found) found++
    for (const { surface } of [even, spotted]) if (surface > 0) surfaceTold++
  }
  return { bars, falselyTold, found, surfaceTold }
}
