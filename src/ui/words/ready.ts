import type { StepId } from '../../session/kit/camera-data.ts'

export interface StepWords {
  readonly name: string
  /** On a button. */
  readonly doing: string
  readonly time: string
  readonly needs: string
  readonly lines: readonly string[]
}

/** The four steps that make a camera ready. */
export const STEP_WORDS: Record<StepId, StepWords> = {
  lock: {
    name: 'White balance',
    doing: 'Lock the white balance',
    time: '1 minute',
    needs: 'The camera app’s manual mode',
    lines: [
      'Set white balance to daylight and leave it there.',
      'Flash off. The same lens for everything that follows.',
    ],
  },
  card: {
    name: 'Grey card',
    doing: 'Photograph a grey card',
    time: '2 minutes',
    needs: 'A grey card or plain white paper, daylight',
    lines: [
      'Outdoors in open shade, or at a window, no lamps.',
      'Fill half the picture with the card. Same lock.',
    ],
  },
  sweep: {
    name: 'Exposure sweep',
    doing: 'Take an exposure sweep',
    time: '5 minutes',
    needs: 'Anything that glows evenly, a stand for the phone',
    lines: [
      'Same place, same glow. Begin just below clipping.',
      'Once a third of a stop brighter, three times a third darker, then whole stops, seven times. Last the first exposure again.',
    ],
  },
  heat: {
    name: 'Known heat',
    doing: 'Take a known heat',
    time: '15 minutes',
    needs: 'A pinch of dry table salt on an oxidised piece',
    lines: [
      'Heat slowly. Photograph the piece beside the salt as it melts, flame off.',
      'A whole exposure sweep of it also does the step before.',
    ],
  },
}

export const READY_WORDS = {
  title: 'Make this camera ready',
  lead: 'Done once. What is found is applied to every later photo of this camera.',
  allAtOnce: 'Open all its photos at once',
  allAtOnceLine: 'Card, salt and sweep together: they are sorted here.',
  done: 'This camera is ready.',
} as const
