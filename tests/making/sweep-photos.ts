import { meanCamera } from '../../src/light/simulate/mean-camera.ts'
import { forgeScene } from '../../src/sources/practice/forge-scene.ts'
import { expose, lightOfScene } from '../../src/sources/practice/take-photo.ts'
import { encodeJpeg } from './encode-jpeg.ts'
import { P3_COLORANTS, writeIccProfile } from './write-icc.ts'
import { writeTiff } from './write-tiff.ts'

const [width, height] = [480, 360]
/** The forge scene as the lens shows it, for every exposure of it. */
const forge = (() => {
  const camera = meanCamera('daylight')
  const scene = forgeScene(camera)
  const scale = 1200 / width
  let light: ReturnType<typeof lightOfScene> | undefined
  return () => {
    light ??= lightOfScene((x, y) => scene(x * scale, y * scale), { width, height })
    return { camera, light }
  }
})()

/** One photo of a sweep: the forge scene, darker by some stops, through a contrasty tone curve. */
function sweepPhoto(stops: number, seed: number, contrast = 1.15): Uint8Array {
  const { camera, light } = forge()
  let state = seed
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 4294967296
  }
  const factor = 2 ** stops
  const exposure = { width, height, fullElectrons: 24_000, readElectrons: 4, random }
  const codes = expose(camera, light, exposure, factor)
  // The camera's own picture style, unknown to the app: contrast and a soft shoulder on each
  // channel's code. (Contrast alone could not be told from a curve that keeps ratios.)
  const styled = codes.map((code) => {
    const contrasted = (code / 255) ** contrast
    return Math.round((255 * 1.5 * contrasted) / (1 + 0.5 * contrasted))
  })
  const exif = writeTiff({
    main: [
      { tag: 271, type: 'ascii', values: 'Made-up' },
      { tag: 272, type: 'ascii', values: 'Sweep camera' },
    ],
    exif: [
      { tag: 33434, type: 'rational', values: [factor / 30] },
      { tag: 33437, type: 'rational', values: [1.8] },
      { tag: 34855, type: 'short', values: [100] },
      { tag: 41987, type: 'short', values: [1] },
    ],
  })
  return encodeJpeg(styled, width, height, {
    quality: 95,
    iccProfile: writeIccProfile('Display P3', P3_COLORANTS),
    exif,
  })
}

/** Photos of the forge scene, darker by as many stops each, with the exposures in their EXIF. */
export const sweepPhotos = (stops: readonly number[], contrast?: number) =>
  stops.map((ev, i) => ({
    name: `IMG_${String(i + 1).padStart(4, '0')}.jpg`,
    bytes: sweepPhoto(ev, i + 1, contrast),
  }))
