import type { Notice } from './estimate.ts'

/** Said before a match by eye begins. */
export const EYE_CAUTIONS = [
  'Screen at full brightness; night mode, warm tint and automatic tint off.',
  'Stay in the dark for five minutes first. Look in turns of a second: do not stare at the glow.',
  'Yellow heat and lamp filaments dazzle, and tinted glasses change the colour: match a picture of them.',
  'With red-green colour blindness, matching by eye is not reliable. Use the camera instead.',
]

export const TRUE_COLOURS =
  'It needs true colours; the dark-shop look dims them. The dark look shows them, and is brighter.'

export const MATCH_STEPS = {
  'from hotter': {
    title: '1 of 2',
    todo: 'From too hot: slide down until both agree.',
  },
  'from colder': {
    title: '2 of 2',
    todo: 'From too cold: slide up until both agree.',
  },
  done: { title: 'By eye', todo: '' },
} as const

/** While the piece itself is looked at. */
export const GLANCE = 'Glance at the glow for a second at a time. Do not stare into it.'

export const TAP_THE_GLOW = 'Tap the glow: closer, and the swatch takes its brightness.'

export const LIVE_BALANCE_FREE: Notice = {
  weight: 'warn',
  title: 'White balance is not locked',
  todo: 'It greys the glow: this match says little. Use the piece itself, or a photo with a fixed white balance.',
}

export const PICTURE_NOT_SHOWN: Notice = {
  weight: 'stop',
  title: 'This browser cannot show that file',
  todo: 'Choose a JPEG, PNG or the like; raw files are read on the reading screen.',
}

/** A figure in sight draws the eye to it. */
export const HIDDEN_FIGURE = 'Figure hidden until both match.'
/** What this camera stores of a glow is worked out and part of the ±. */
export const CAMERA_COUNTED = 'Camera counted in.'
