import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import {
  lightFromCode,
  type ToneCurve,
  toneCurveUncertainty,
} from '../../../src/light/exposure-sweep/tone-curve.ts'
import { measurePair, type PairResult } from '../../../src/light/raw-pair/measure-pair.ts'
import {
  deliveredP3,
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../../src/light/simulate/simulated-camera.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { seeded } from '../../accuracy/random.ts'
import { statedMatrix } from '../../accuracy/raw-path.ts'
import { type CameraCurve, drawCurve, throughCurve } from '../../accuracy/tone-curves.ts'
import { readCameras, readTraining } from '../../measured-data.ts'
import { developed, mapOfPhoto, mapOfRaw, type Shot, shoot } from './scene.ts'

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

/** ln(G/R) of a black body by the curve, less the true one. */
function errorAt(kelvin: number, camera: SimulatedCamera, of: CameraCurve, found: ToneCurve) {
  const [r, g, b] = deliveredP3(camera, glowSpectrum(kelvin))
  const bent = throughCurve(of, [0.5, (0.5 * g) / r, (0.5 * b) / r])
  const codes = bent.map(encodeTransfer) as unknown as Triple
  const light = found.kind === 'channel' ? codes.map((code) => lightFromCode(found, code)) : bent
  const { green } = toneCurveUncertainty(found, codes)
  return { error: Math.log(light[1]! / light[0]!) - Math.log(g / r), stated: green }
}

describe('a photo and the raw picture of the same shot', () => {
  // Planck in Display P3 at 1173 K: 0.0029 of ln(G/R) a kelvin.
  test.each([8, 11, 17])(
    'give the curve: salt to 1173 K within 5 K of linear light (%i)',
    async (i) => {
      const random = seeded(1000 + i)
      const camera = simulated((7 * i) % cameras.length)
      const curve = drawCurve('contrast', random)
      const taken = { camera, curve, hottestK: 1173, coolestK: 880, room: 0.003, random }
      const shot = shoot(taken)
      const found = await pairOf(shot, shot, camera)
      if (found.kind === 'refused') throw new Error(found.reason)
      const [salt, glow] = [1073.6, 1173].map((kelvin) =>
        errorAt(kelvin, camera, curve, found.curve),
      )
      expect(Math.abs(glow!.error - salt!.error) / 0.0029).toBeLessThan(5)
      expect(Math.abs(glow!.error)).toBeLessThan(3 * Math.max(glow!.stated, 0.005))
    },
  )

  test('say that levels are missing where the bar is alike all over, and of another shot nothing', async () => {
    const random = seeded(3)
    const camera = simulated(0)
    const curve = drawCurve('contrast', random)
    const even = shoot({ camera, curve, hottestK: 1173, coolestK: 1150, room: 0, random })
    expect(await pairOf(even, even, camera)).toMatchObject({ reason: 'levels missing' })
    const { width, height, raw } = even
    const turned = new Float32Array(raw.length)
    for (let p = 0; p < width * height; p++) {
      const to = (p % width) * 3 * height + 3 * Math.floor(p / width)
      for (let c = 0; c < 3; c++) turned[to + c] = raw[3 * p + c]!
    }
    const standing = { ...even, raw: turned, width: height, height: width }
    expect(await pairOf(even, standing, camera)).toMatchObject({ reason: 'other picture' })
  })
})
