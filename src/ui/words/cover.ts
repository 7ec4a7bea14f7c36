import type { Notice } from './estimate.ts'

/** Whatever lies between glow and camera also mirrors. */
export const COVER_MIRRORS: Notice = {
  weight: 'warn',
  title: 'What is in front also mirrors',
  todo: 'Lamps, windows and your own shirt are read with the glow. Shade it, look at a slant, or take a lights-only photo through it.',
}
