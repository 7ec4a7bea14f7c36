import { encodeJpeg } from '../../../tests/making/encode-jpeg.ts'
import { P3_COLORANTS, writeIccProfile } from '../../../tests/making/write-icc.ts'
import { writeTiff } from '../../../tests/making/write-tiff.ts'
import { meanCamera } from '../../light/simulate/mean-camera.ts'
import { forgeScene, SCENE, TRUE_PLACES } from './forge-scene.ts'
import { takePhoto } from './take-photo.ts'

/** The practice photo as a JPEG, and what is true about it. scripts/practice-photo.mjs keeps both. */
export function makePracticePhoto() {
  const { width, height, temperatureK, spreadK } = SCENE
  const camera = meanCamera('daylight')
  let state = 20260101
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 4294967296
  }
  const exposure = { width, height, fullElectrons: 24_000, readElectrons: 6, random }
  const rgb = takePhoto(camera, forgeScene(camera), exposure)
  const photo = encodeJpeg(rgb, width, height, {
    quality: 88,
    iccProfile: writeIccProfile('Display P3', P3_COLORANTS),
    exif: exifBlock(),
  })
  const truth = {
    simulated: true,
    about: 'Simulated by Glowbook: no photograph. Planck, mean camera, no tone curve of its own.',
    temperatureK,
    spreadK,
    surface: 'black body',
    glowRegion: TRUE_PLACES.glow,
    cardRegion: TRUE_PLACES.card,
    lightOnCard: { kind: 'daylight', illuminant: 'D65' },
    balanceState: 'daylight',
    width,
    height,
  }
  return { photo, truth }
}

/** What a camera would write; tags of Exif 2.32, tables 4 to 8. */
function exifBlock(): Uint8Array {
  return writeTiff({
    main: [
      { tag: 270, type: 'ascii', values: 'Simulated by Glowbook. No photograph.' },
      { tag: 271, type: 'ascii', values: 'Simulated' },
      { tag: 272, type: 'ascii', values: 'Practice camera' },
      { tag: 305, type: 'ascii', values: 'Glowbook practice bench' },
    ],
    exif: [
      { tag: 33434, type: 'rational', values: [1 / 60] },
      { tag: 33437, type: 'rational', values: [1.8] },
      { tag: 34855, type: 'short', values: [100] },
      { tag: 37384, type: 'short', values: [21] },
      { tag: 37385, type: 'short', values: [0] },
      { tag: 41987, type: 'short', values: [1] },
    ],
  })
}
