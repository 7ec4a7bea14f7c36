import type { TemperatureDifference } from '../../estimate/difference.ts'
import type { BandPlace } from '../../estimate/live/live-line.ts'
import type { CameraEnd } from '../../sources/live/live-camera.ts'
import { showDifference } from '../temperature.ts'
import { showMoveSpan } from '../temperature-span.ts'
import type { Notice } from './estimate.ts'

export const LIVE_TROUBLES = {
  'no glow': 'No glow found: point at it, or hold a fixed sight.',
  'too small': 'Too small: go nearer.',
  clipped: 'Overexposed: no figure. Find the exposure, or aim beside the bright core.',
  'too dark': 'Too dark: expose longer, go nearer.',
  moving: 'Moving: hold still.',
  flicker: 'Flicker: a lamp pulses. Switch it off, or use a longer exposure.',
  'below range': 'Below range: live video starts near 730 °C (1340 °F). Take a photo.',
  'above range': 'Not red enough for a glow within range.',
  reading: 'Reading …',
  'not read': 'The pictures cannot be read just now. If it stays so, reload.',
  paused: 'No pictures: a call or another app has the camera.',
} as const

export const LIVE_REFUSALS: Record<CameraEnd, Notice> = {
  denied: {
    weight: 'stop',
    title: 'The camera was not allowed',
    todo: 'Allow it for this page in the browser’s settings, then start again. Photos and the practice bench need no permission.',
  },
  none: {
    weight: 'stop',
    title: 'No camera found',
    todo: 'Connect one and start again, or open a photo.',
  },
  busy: {
    weight: 'stop',
    title: 'The camera is busy',
    todo: 'Another app or a call holds it. Close that, then start again.',
  },
  'not offered': {
    weight: 'stop',
    title: 'No live camera in this browser',
    todo: 'Browsers offer it on secure pages only (https). Open a photo instead.',
  },
  failed: {
    weight: 'stop',
    title: 'The camera did not start',
    todo: 'Start again; if it keeps failing, open a photo.',
  },
  ended: {
    weight: 'stop',
    title: 'The camera has stopped',
    todo: 'A call, another app or the browser took it. Start again when it is free.',
  },
}

export const LOCK_NAMES = {
  exposure: 'Exposure',
  whiteBalance: 'White balance',
  focus: 'Focus',
} as const

export const LOCK_STATES = {
  locked: 'locked',
  'not offered': 'not locked: this camera does not offer it',
  refused: 'not locked: the camera refused',
  drifts: 'not locked: the camera says so, but the picture drifts',
} as const

export const BAND_WORDS: Record<BandPlace, { sign: string; text: string }> = {
  below: { sign: '▼', text: 'Below' },
  inside: { sign: '●', text: 'Inside' },
  above: { sign: '▲', text: 'Above' },
}

export const LIVE_RANGE =
  'Live video loses the dullest reds: it reads from about 730 °C (1340 °F) up.'

export const BALANCE_NOT_LOCKED: Notice = {
  weight: 'warn',
  title: 'White balance is not locked',
  todo: 'It tries to turn the glow grey; the ± is wider for it. Put a grey card into the picture (below), or take a photo.',
}

export const CARD_COUNTS = 'The card is measured in every frame: white balance is taken out by it.'

export const CURVE_NOT_KNOWN: Notice = {
  weight: 'note',
  title: 'The tone curve is not known',
  todo: 'It is most of the ±. Keep phone and glow still and run the exposure sweep (below): some seconds.',
}

export const SCREEN_MAY_SLEEP: Notice = {
  weight: 'note',
  title: 'The screen may go dark',
  todo: 'The phone saves its battery, or the browser cannot keep the screen on. Touch it now and then, or switch the battery saver off.',
}

/** 1/60 s, 0.5 s. */
export const exposureWords = (seconds: number): string =>
  seconds < 0.3 ? `1/${Math.round(1 / seconds)} s` : `${seconds.toFixed(1)} s`

export const CANVAS_ONLY: Notice = {
  weight: 'note',
  title: 'Frames are read by way of the canvas',
  todo: 'This browser gives no frames, or states other colours for them than it shows. Nothing to do; it is slower.',
}

export const EXPOSURE_NOT_SET: Notice = {
  weight: 'note',
  title: 'The exposure cannot be set here',
  todo: 'So no sweep can be run by itself: the tone curve stays unknown. Open several photos of different exposure instead.',
}

/** The change since the hold: a difference of two readings by one camera is far surer than either. */
export function sinceHoldWords({ differenceK, interval95K }: TemperatureDifference): string {
  const [low, high] = interval95K
  const half = Math.max((high - low) / 2, 1)
  if (low <= 0 && high >= 0)
    return `As at the hold, within ± ${showDifference(Math.max(-low, high, 1))}`
  return `${showMoveSpan(differenceK, half)} since the hold`
}

export const NO_VOICE = 'This device has no voice of its own; none from a server is used.'

export const SOUND_WITHOUT_BAND = 'Sound tells below, inside, above: set a target band.'
