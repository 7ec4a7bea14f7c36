import type { ReadyWay } from '../../session/kit/ready-way.ts'
import { STEP_WORDS, type StepWords } from './ready.ts'

/** Of a camera that cannot be locked: its balance is read off a card in the very picture. */
const IN_PICTURE: StepWords = {
  ...STEP_WORDS.card,
  doing: 'Place the card in the picture',
  needs: 'A grey card, a filament lamp (no LED), a stand for the phone',
  lines: [
    'Card beside the glow, the lamp alone on it, none of the glow’s light.',
    'Photograph both at once. Keep card, lamp and phone where they are: the card is found again.',
  ],
}

/** The card is photographed as the glow is: in raw. */
const IN_RAW: StepWords = {
  ...STEP_WORDS.card,
  lines: [
    'Outdoors in open shade, or at a window, no lamps.',
    'Fill half the picture with the card. A raw photo (DNG).',
  ],
}

/** The step of the grey card, by whether the camera can be locked. */
export const CARD_WORDS: Readonly<Record<ReadyWay, StepWords>> = {
  locked: STEP_WORDS.card,
  raw: IN_RAW,
  'card in picture': IN_PICTURE,
}
