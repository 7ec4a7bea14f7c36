import type { GreyFinding } from '../../light/grey-reference.ts'
import type { LensDifference } from '../../light/lens-shading.ts'
import type { Notice } from './estimate.ts'
import { percent } from './percent.ts'

/** A raw glow wants a raw card, an ordinary one an ordinary card. */
export const OTHER_CHANNELS: Notice = {
  weight: 'stop',
  title: 'Raw and ordinary photos do not mix',
  todo: 'Photograph the card the same way as the glow: both raw, or both ordinary.',
}

/** Standard uncertainty of ln(G/R) by the lens, between card and glow. */
export const cardFarNotice = (shading: number): Notice => ({
  weight: 'note',
  title: 'Glow and card lie far apart in the picture',
  todo: `A lens colours middle and corners differently, by about ${(100 * shading).toFixed(1)} %. The ± allows for it; put the card beside the glow, or keep a flat field of this lens in the kit.`,
})

/** The same where a flat field takes it out. */
export const cardMovedNotice = ({ green, uncertainty }: LensDifference): Notice => ({
  weight: 'note',
  title: 'Glow and card lie far apart in the picture',
  todo: `The flat field of this lens takes ${(100 * Math.abs(green)).toFixed(1)} % out, ± ${(200 * uncertainty).toFixed(1)} %.`,
})

/** A card was chosen, but nothing could be taken from it yet. */
export const CARD_NOT_COUNTED: Notice = {
  weight: 'warn',
  title: 'The grey card does not count yet',
  todo: 'Tap the card in the picture and fit the frame inside it; see “Grey card” below.',
}

/** Why a grey region cannot be used, and what to do. */
export function greyNotice({ code, values }: GreyFinding): Notice {
  const weight = 'stop'
  switch (code) {
    case 'empty':
      return {
        weight,
        title: 'The card region lies outside the photo',
        todo: 'Move it onto the card.',
      }
    case 'too small':
      return {
        weight,
        title: `The card region has only ${values.pixels} pixels`,
        todo: `At least ${values.leastPixels} are needed. Make it larger, or go closer to the card.`,
      }
    case 'clipped':
      return {
        weight,
        title: `The card is overexposed: ${percent(values.share)} is clipped`,
        todo: 'A clipped card has lost its colour. Photograph it darker, with the same white-balance lock.',
      }
    case 'dark':
      return {
        weight,
        title: 'The card is too dark',
        todo: 'Its colour is lost in the noise. Give it more light of the stated kind, or expose longer.',
      }
    case 'on the glow':
      return {
        weight,
        title: 'This is the glow, or lit by it',
        todo: 'The card must be lit by the stated light alone. Move the region onto the card, away from the glow.',
      }
    case 'uneven':
      return {
        weight,
        title: 'The card region is uneven',
        todo: 'A shadow, an edge or mixed light lies in it. Choose an even part of the card.',
      }
  }
}
