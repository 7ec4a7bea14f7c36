import type { LevelMatch } from '../../estimate/matched-level.ts'
import type { Notice } from './estimate.ts'

/** Ways out of an unknown tone curve, with how far a sweep of this glow must go. */
export const toneCurveUnknown = (stops: number): Notice => ({
  weight: 'note',
  title: 'Ordinary photo: its tone curve is unknown',
  todo: `A raw photo (DNG) takes this away, or an exposure sweep: for this glow ${Math.ceil(stops)} stops down from just below clipping.`,
})

const code = (level: number) => (255 * level).toFixed(0)

/** Red at the same level as in a known heat lets the tone curve nearly cancel. */
export const levelMatchNotice = (match: LevelMatch, name: string): Notice => ({
  weight: 'note',
  ...(match.matched
    ? {
        title: `Red is at the level of “${name}”`,
        todo: 'The tone curve nearly cancels; that is counted.',
      }
    : {
        title: `Red reads ${code(match.reading)} here, ${code(match.reference)} in “${name}”`,
        todo: 'Expose so that both read alike: the tone curve then nearly cancels.',
      }),
})
