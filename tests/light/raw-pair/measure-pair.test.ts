import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { linearityByCurve } from '../../../src/estimate/linearity-by-curve.ts'
import {
  lightFromCode,
  type ToneCurve,
  toneCurveUncertainty,
} from '../../../src/light/exposure-sweep/tone-curve.ts'
import { measurePair, type PairResult } from '../../../src/light/raw-pair/measure-pair.ts'
import { placeMaps, turnedMap } from '../../../src/light/raw-pair/place-maps.ts'
import {
  deliveredP3,
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../../src/light/simulate/simulated-camera.ts'
import { diagonal, type Triple } from '../../../src/numerics/matrix3.ts'
import { seeded } from '../../accuracy/random.ts'
import { statedMatrix } from '../../accuracy/raw-path.ts'
import { type CameraCurve, drawCurve, throughCurve } from '../../accuracy/tone-curves.ts'
import { reading, reference, temperature } from '../../estimate/inputs.ts'
import { readCameras, readTraining } from '../../measured-data.ts'
import {
  developed,
  type Finish,
  finished,
  mapOfPhoto,
  mapOfRaw,
  type Shot,
  shoot,
} from './scene.ts'

const training = readTraining()
const cameras = readCameras()
const simulated = (i: number) => simulateCamera(cameras[i]!, training, 'daylight')

async function pairOf(shot: Shot, other: Shot, camera: SimulatedCamera): Promise<PairResult> {
  return measurePair({
    photo: await mapOfPhoto(shot, developed(shot)),
    space: 'display-p3',
    steps: { luma: 3, chroma: 3 },
    raw: await mapOfRaw(other),
    cameraToXyz: statedMatrix(camera),
    asShotNeutral: null,
  })
}

/** A light as the camera stores it in codes, and as the curve reads these. */
function readBy(of: CameraCurve, found: ToneCurve, [r, g, b]: Triple) {
  const bent = throughCurve(of, [0.5, (0.5 * g) / r, (0.5 * b) / r])
  const codes = bent.map(encodeTransfer) as unknown as Triple
  const read = found.kind === 'channel' ? codes.map((code) => lightFromCode(found, code)) : bent
  return { codes, read: read as unknown as Triple }
}

/** ln(G/R) of a black body by the curve, less the true one. */
function errorAt(kelvin: number, camera: SimulatedCamera, of: CameraCurve, found: ToneCurve) {
  const light = deliveredP3(camera, glowSpectrum(kelvin))
  const { codes, read } = readBy(of, found, light)
  const { green } = toneCurveUncertainty(found, codes)
  return { error: Math.log(read[1] / read[0]) - Math.log(light[1] / light[0]), stated: green }
}

/** How far off 1173 K is read beside salt, both by the curve, against the same in linear light, K. */
function offLinear(camera: SimulatedCamera, of: CameraCurve, found: ToneCurve): number {
  const [salt, glow] = [1073.6, 1173].map((kelvin) => {
    const light = deliveredP3(camera, glowSpectrum(kelvin))
    const { codes, read } = readBy(of, found, light)
    return { light, read, linearity: linearityByCurve(found, 'pair', codes, 0) }
  })
  const noise = diagonal([1e-8, 1e-8, 1e-8])
  const at = (mean: Triple) => ({ mean, covariance: noise })
  const straight = temperature(
    reading(at(glow!.light), { references: [reference(1073.6, 1.2, at(salt!.light))] }),
  )
  const byCurve = temperature(
    reading(at(glow!.read), {
      linearity: glow!.linearity,
      references: [reference(1073.6, 1.2, at(salt!.read), { linearity: salt!.linearity })],
    }),
  )
  return byCurve.temperatureK - straight.temperatureK
}

describe('a photo and the raw picture of the same shot', () => {
  test.each<readonly [string, number, Finish]>([
    ['as the camera saw it', 8, {}],
    ['as the camera saw it', 11, {}],
    ['corrected for its lens', 17, { bulge: -0.06, enlarged: 0.03 }],
    ['cut to a square', 8, { width: 480 }],
    ['cut to 16:9', 11, { height: 360 }],
  ])(
    'give the curve: 1173 K beside salt within 5 K of linear light, %s (%i)',
    async (_, i, finish) => {
      const random = seeded(1000 + i)
      const camera = simulated((7 * i) % cameras.length)
      const curve = drawCurve('contrast', random)
      const taken = { camera, curve, hottestK: 1173, coolestK: 880, room: 0.003, random }
      const shot = shoot(taken)
      const found = await pairOf(finished(shot, finish), shot, camera)
      if (found.kind === 'refused') throw new Error(found.reason)
      expect(Math.abs(offLinear(camera, curve, found.curve))).toBeLessThan(5)
      const { error, stated } = errorAt(1173, camera, curve, found.curve)
      expect(Math.abs(error)).toBeLessThan(3 * Math.max(stated, 0.005))
    },
  )

  test('say that levels are missing where the bar is alike all over', async () => {
    const random = seeded(3)
    const camera = simulated(0)
    const curve = drawCurve('contrast', random)
    const even = shoot({ camera, curve, hottestK: 1173, coolestK: 1150, room: 0, random })
    expect(await pairOf(even, even, camera)).toMatchObject({ reason: 'levels missing' })
  })

  test('are laid on each other however the raw picture was held, and of another shot they say nothing', async () => {
    const random = seeded(1008)
    const camera = simulated(4)
    const curve = drawCurve('contrast', random)
    const taken = { camera, curve, hottestK: 1173, coolestK: 880, room: 0.05, random }
    const shot = shoot(taken)
    const [photo, raw] = [await mapOfPhoto(shot, developed(shot)), await mapOfRaw(shot)]
    const [red] = statedMatrix(camera)
    for (const quarters of [1, 2, 3]) {
      const placed = placeMaps(photo, turnedMap(raw, quarters), red)!
      expect(placed.place.correlation).toBeGreaterThan(0.98)
      expect(placed.raw.light.every((light, at) => light === raw.light[at])).toBe(true)
    }
    // A glow at the side.
    const side = await mapOfRaw(finished(shot, {}))
    side.light.copyWithin(3 * 60, 0, side.light.length - 3 * 60)
    expect(placeMaps(photo, side, red)!.place.correlation).toBeLessThan(0.9)
  })
})
