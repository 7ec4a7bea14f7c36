import type { MeasuredExposure } from '../../estimate/exposure-test.ts'
import type { ExposurePhotosRefusal } from '../../session/kit/exposure-photos.ts'
import type { Notice } from './estimate.ts'
import { refusalSentence } from './photo-refusals.ts'
import { shutterWords } from './shutter.ts'

export const EXPOSURE_TEST_ASK =
  'Camera fixed, steady light that does not flicker (daylight), something bright and something dark in the picture: raw photos at the exposures that you use, at most three stops from one to the next. Two of one exposure show whether the light stood still.'

const SENTENCES: Record<
  Exclude<ExposurePhotosRefusal['code'], 'not read'>,
  readonly [string, string]
> = {
  'one setting': ['All have one exposure', 'Add photos at other exposures of the same scene.'],
  'other pictures': ['The pictures differ in size', 'Take all in one format, the camera fixed.'],
  'nothing in common': [
    'Two neighbours in exposure have nothing in common',
    'Add a photo at an exposure between them, or put something darker into the picture.',
  ],
  'not steady': [
    'Camera or light moved',
    'Fix the camera, wait for steady light, take the photos again.',
  ],
  'too many': ['More than 60 photos', 'Choose 60 at most.'],
  'not raw': ['is no raw photo', 'Choose raw photos (DNG): others are bent by their tone curve.'],
  'exposure not stated': ['does not state its exposure', 'Leave it out.'],
  'another camera': ['is of another camera', 'Choose photos of this camera.'],
}

export function exposureRefusal(refusal: ExposurePhotosRefusal): Notice {
  if (refusal.code === 'not read') return refusalSentence(refusal.error, refusal.name)
  const [title, todo] = SENTENCES[refusal.code]
  return { weight: 'stop', title: 'name' in refusal ? `${refusal.name} ${title}` : title, todo }
}

export const settingWords = ({ exposureSeconds, iso, fNumber }: MeasuredExposure): string =>
  `${shutterWords(exposureSeconds)}, ISO ${Math.round(iso)}, f/${Number(fNumber.toFixed(1))}`

/** Light over what the label says, in percent. */
export function offWords({ lnOff, standardUncertainty }: MeasuredExposure): string {
  const percent = 100 * Math.expm1(lnOff)
  const half = Math.max(200 * standardUncertainty, 0.1)
  const digits = half < 1 ? 1 : 0
  const sign = percent < 0 ? '−' : '+'
  return `${sign}${Math.abs(percent).toFixed(digits)} ± ${half.toFixed(digits)} %`
}
