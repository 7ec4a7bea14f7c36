/** Words of the trade that the screens use, in one or two sentences. */
export const GLOSSARY = {
  clipped: {
    word: 'clipped',
    meaning:
      'A pixel so bright that a channel has reached the top of the scale. How much brighter it was is lost, and a clipped glow looks hotter than it is.',
  },
  stop: {
    word: 'stop',
    meaning:
      'A factor of two of light. One stop darker is half the exposure time, or half the ISO.',
  },
  'tone curve': {
    word: 'tone curve',
    meaning:
      'How a camera bends light into the numbers of its photo, to please the eye. It changes the ratio of green to red, which the temperature is read from.',
  },
  'white balance': {
    word: 'white balance',
    meaning:
      'What the camera takes for white. Automatic, it tries to turn a glow grey; locked, it stays as it is.',
  },
  'grey card': {
    word: 'grey card',
    meaning:
      'A card without colour. Its photo in a known light shows what the camera’s white balance does.',
  },
  'exposure sweep': {
    word: 'exposure sweep',
    meaning:
      'Photos of one glow from the same place, each one stop darker. From them the tone curve is found.',
  },
  'known heat': {
    word: 'known heat',
    meaning:
      'Something whose temperature is known without the camera: salt as it melts, a thermocouple, a filament lamp.',
  },
} as const
export type TermId = keyof typeof GLOSSARY
