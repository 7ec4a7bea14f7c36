import { XYZ_FROM_P3 } from '../../../src/colour/rgb-spaces.ts'
import { meanCamera } from '../../../src/light/simulate/mean-camera.ts'
import { diagonal, invert, multiply, type Triple } from '../../../src/numerics/matrix3.ts'
import { forgeScene } from '../../../src/sources/practice/forge-scene.ts'
import { type DngOptions, writeDng } from '../../making/write-dng.ts'

export const BLACK = 512
export const WHITE = 16383

const camera = meanCamera('daylight')
const top = Math.max(...camera.card)
/** Raw channels of a grey card in daylight, brightest 1. */
export const CARD: Triple = [camera.card[0] / top, camera.card[1] / top, camera.card[2] / top]
const cameraToXyz = multiply(
  XYZ_FROM_P3,
  multiply(camera.matrix, diagonal([1 / CARD[0], 1 / CARD[1], 1 / CARD[2]])),
)

/** The forge of the practice photo as the sensor of the mean camera saw it, noise included. */
export function forgeMosaic(width: number, height: number): Uint16Array {
  const scene = forgeScene(camera)
  const scale = 1200 / width
  let state = 7
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state + 1) / 4294967297
  }
  return Uint16Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)]
    const channel = ((y & 1) + (x & 1)) as 0 | 1 | 2
    const level = scene((x + 0.5) * scale, (y + 0.5) * scale)[channel] * CARD[channel]
    const noise = Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random())
    const electrons = 20_000 * level + Math.sqrt(20_000 * Math.max(level, 0) + 25) * noise
    const sample = BLACK + ((WHITE - BLACK) * electrons) / 20_000
    return Math.round(Math.min(Math.max(sample, 0), WHITE))
  })
}

export function dngOf(
  samples: Uint16Array,
  options: Partial<DngOptions> & Pick<DngOptions, 'width' | 'height'>,
) {
  return writeDng({
    samples,
    black: [BLACK],
    white: WHITE,
    colorMatrix: invert(cameraToXyz),
    asShotNeutral: CARD,
    exif: [
      { tag: 33434, type: 'rational', values: [1 / 125] },
      { tag: 33437, type: 'rational', values: [1.8] },
      { tag: 34855, type: 'short', values: [50] },
      { tag: 36867, type: 'ascii', values: '2026:01:02 03:04:05' },
      { tag: 37385, type: 'short', values: [0] },
      { tag: 41987, type: 'short', values: [1] },
    ],
    ...options,
  })
}
