import type { LeakTestId } from '../../estimate/leak-test-ids.ts'
import type { LeakEstimate } from '../../estimate/types.ts'
import { oneIn } from './estimate.ts'

interface TestWords {
  readonly name: string
  readonly doing: string
  readonly seen: string
  readonly unseen: string
}

/** How each test is done, and its two results. */
export const LEAK_TEST_WORDS: Record<LeakTestId, TestWords> = {
  'remote control': {
    name: 'Remote control',
    doing:
      'In a lit room, 30 cm before the camera and lens that you use: press a key of a television’s remote control and look at its lamp on the screen. If you see nothing, try another camera to be sure that it sends.',
    seen: 'It lights up',
    unseen: 'Nothing',
  },
  'hot plate': {
    name: 'Hot plate',
    doing:
      'A plate or furnace wall at 450 to 500 °C that does not glow to your eye, in the dark, the longest exposure, white balance on daylight.',
    seen: 'Violet, pink or white',
    unseen: 'Deep red or nothing',
  },
}

/** A test by its picture: the way in, and what the frame belongs on. */
export const LEAK_PHOTO_WORDS: Record<
  LeakTestId,
  { readonly ask: string; readonly frame: string }
> = {
  'remote control': { ask: 'Judge a photo of its lamp', frame: 'Lamp of the remote control' },
  'hot plate': { ask: 'Judge a photo of the plate', frame: 'Hot plate' },
}

/** Why a picture says nothing, and what to do. */
export const LEAK_REFUSALS = {
  clipped: 'Too bright there: take it again, exposed less.',
  'exposure not stated':
    'The file does not state its exposure: say above what you see on the screen.',
  'no such plate':
    'No plate of 450 to 500 °C has this colour: move the frame, or lock white balance on daylight.',
} as const

/** What the tests say, as a result: how much of the infrared the filter lets through. */
export function leakWords({ median, high95 }: LeakEstimate): string {
  return `passes about 1 part in ${oneIn(median)} of the infrared, 1 in ${oneIn(high95)} at the most`
}

/** From so much on, a reading is off by tens of kelvin where nothing else is known. */
const MUCH = 3e-4
export const leakAdvice = ({ median }: LeakEstimate): string =>
  median > MUCH
    ? 'Readings allow for it. Two known heats measure it; heat-absorbing glass before the lens takes it away.'
    : 'Readings allow for it.'
