/**
 * Ways to a temperature besides a photo, in the order in which the start page offers them. Each stands
 * at /reading/<id>.
 */
export const WAYS = [
  {
    id: 'live',
    name: 'Live camera',
    line: 'Point, see the temperature, save with one tap. Also a practice bench.',
  },
  {
    id: 'spectrum',
    name: 'Spectrum',
    line: 'From a spectrometer’s files: a lamp first, then the glow.',
  },
  {
    id: 'check',
    name: 'Can that be true?',
    line: 'Hold a reading against supply power, brightness and other readings.',
  },
] as const

export type WayId = (typeof WAYS)[number]['id']
