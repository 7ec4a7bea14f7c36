import type { PairRefused } from '../../light/raw-pair/measure-pair.ts'
import type { Notice } from './estimate.ts'

/** Why photo and raw picture give no tone curve; the photo is then read by itself. */
export function rawPairRefusalNotice({ reason, values }: PairRefused): Notice {
  const weight = 'warn'
  const alone = 'The photo is read by itself.'
  switch (reason) {
    case 'other picture':
      return {
        weight,
        title: 'The raw file shows something else',
        todo: `${alone} Open the two files of one shot, not cropped or edited.`,
      }
    case 'too little light':
      return {
        weight,
        title: `Both files share only ${values.stops?.toFixed(1)} stops of light`,
        todo: `${alone} At least ${values.leastStops} are needed: have a bright and a dim part in view, none clipped.`,
      }
    case 'levels missing':
      return {
        weight,
        title: 'Between bright and dark nothing is in view',
        todo: `${alone} Put a grey card or the cooler end of the piece into the picture too.`,
      }
    case 'does not fit':
      return {
        weight,
        title: 'No single tone curve joins the two files',
        todo: `${alone} Switch HDR, night and scene modes off.`,
      }
  }
}
