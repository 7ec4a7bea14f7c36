/** Raw photos of card, salt and glow, read with the colour matrix that the files state. */
import { XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import {
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { diagonal, invert, type Matrix3, multiply } from '../../src/numerics/matrix3.ts'
import { outcomeOf, seedOf } from './bench.ts'
import type { TestSet } from './cameras.ts'
import { cardBalance, inputOf, referenceOf, stateOf } from './conditions.ts'
import { CARD, type PathResult, SALT, SOME_K, saltDrawn } from './paths.ts'
import { rawPatch, type Sensor } from './photograph.ts'
import { seeded } from './random.ts'
import { Score } from './score.ts'

/** Raw channels with the colour matrix that a raw file states; card and salt raw as well. */
export function rawPath(
  set: TestSet,
  { draws, sensor }: { readonly draws: number; readonly sensor: Sensor },
): PathResult {
  const scores = SOME_K.map((kelvin) => new Score(kelvin))
  for (const [index, camera] of set.cameras.entries()) {
    const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
    for (let draw = 0; draw < draws; draw++) {
      const random = seeded(seedOf(index, 'raw', draw))
      const photograph = (spectrum: (nm: number) => number) =>
        rawPatch(simulated, spectrum, sensor, random)
      const card = cardBalance(CARD, photograph, random).balance
      const raw = <T extends object>(of: T) => ({
        ...of,
        channels: 'camera' as const,
        balanceState: { kind: 'raw' as const, colourTemperatureK: null },
        linearity: { kind: 'raw' as const },
      })
      const salt = raw(
        referenceOf(
          camera,
          SALT,
          card,
          stateOf('daylight'),
          photograph(glowSpectrum(saltDrawn(random))),
        ),
      )
      for (const [i, kelvin] of SOME_K.entries()) {
        const glow = photograph(glowSpectrum(kelvin))
        const input: GlowInput = {
          ...raw(inputOf(camera, card, stateOf('daylight'), glow, [salt])),
          cameraToXyz: statedMatrix(simulated),
        }
        scores[i]!.add(outcomeOf(estimateGlow(input, camera.locus)))
      }
    }
  }
  return {
    name: 'raw',
    rows: scores.map((score) => score.row()),
    againstLinearK: null,
    refusedSweeps: 0,
  }
}

/** Camera channels to XYZ, by way of a DNG's ColorMatrix with its four decimals. */
export function statedMatrix({ matrix, card }: SimulatedCamera): Matrix3 {
  const toXyz = multiply(
    XYZ_FROM_P3,
    multiply(matrix, diagonal([1 / card[0], 1 / card[1], 1 / card[2]])),
  )
  const colorMatrix = invert(toXyz)
  const largest = Math.max(...colorMatrix.flat().map(Math.abs))
  const rounded = colorMatrix.map((row) =>
    row.map((value) => Math.round((value / largest) * 1e4) / 1e4),
  ) as unknown as Matrix3
  return invert(rounded)
}
