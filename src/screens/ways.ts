import type { ComponentType } from 'preact'

/** A way to a temperature besides a photo; it stands at /reading/<id>. */
export interface Way {
  readonly id: string
  readonly name: string
  /** What it is for, in a few words. */
  readonly line: string
  readonly load: () => Promise<ComponentType>
}

/** In the order in which the start page offers them. */
export const WAYS: readonly Way[] = [
  {
    id: 'live',
    name: 'Live camera',
    line: 'Point, see the temperature, save with one tap. Also a practice bench.',
    load: async () => (await import('./live/live-screen.tsx')).LiveScreen,
  },
  {
    id: 'spectrum',
    name: 'Spectrum',
    line: 'From a spectrometer’s files: a lamp first, then the glow.',
    load: async () => (await import('./spectrum/spectrum-screen.tsx')).SpectrumScreen,
  },
  {
    id: 'check',
    name: 'Can that be true?',
    line: 'Hold a reading against supply power, brightness and other readings.',
    load: async () => (await import('./check/check-screen.tsx')).CheckScreen,
  },
]
