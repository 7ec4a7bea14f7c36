import { isSeriousDrift } from '../../estimate/severity.ts'
import type { SweepFinding, SweepRefused } from '../../light/exposure-sweep/sweep-result.ts'
import type { Notice } from './estimate.ts'

const stops = (value = 0) => value.toFixed(1)
/** Of light that a photo got. */
const stopsOff = (ln = 0) =>
  `${Math.abs(ln / Math.LN2).toFixed(1)} stops ${ln > 0 ? 'brighter' : 'darker'} than exposed`
const percent = (share = 0) => `${(100 * share).toFixed(0)} %`

/** Why a sweep gives no figure, and what to do. */
export function sweepRefusalNotice(
  { reason, values, depth }: SweepRefused,
  nameOf: (frame: number) => string = (frame) => `Photo ${frame + 1}`,
): Notice {
  const weight = 'stop'
  switch (reason) {
    case 'too few frames':
      return {
        weight,
        title: `Only ${values.frames} photos`,
        todo: `A sweep needs at least ${values.leastFrames}, one stop apart.`,
      }
    case 'frames differ in size':
      return {
        weight,
        title: 'The photos are not of one kind',
        todo: 'All photos of a sweep must have the same size and colour space. Do not crop or edit them.',
      }
    case 'exposures do not differ':
      return {
        weight,
        title: `The exposures differ by ${stops(values.stops)} stops only`,
        todo: 'Set the exposure by hand, one stop apart, or enter the steps below.',
      }
    case 'exposures disagree':
      return {
        weight,
        title: 'The stated exposures do not fit the pictures',
        todo: `${values.frame === undefined ? '' : `${nameOf(values.frame)} is the worst. `}The camera may have brightened some by itself, or its curve is too abrupt to be followed. Lock ISO too, or enter the steps by hand.`,
      }
    case 'scene moved':
      return {
        weight,
        title: 'The scene moved between the photos',
        todo: `${values.frame === undefined ? '' : `${nameOf(values.frame)} shows it elsewhere. `}Use a stand, and keep the piece still.`,
      }
    case 'clipped':
      return {
        weight,
        title: 'Too many photos are clipped',
        todo: `Only ${values.usable} of the photos are without clipping; ${values.leastFrames} are needed. Go further down.`,
      }
    case 'dark':
      return {
        weight,
        title: 'Too many photos are dark',
        todo: `Only ${values.usable} of the photos show the glow well; ${values.leastFrames} are needed. Start brighter.`,
      }
    case 'card not seen':
      return {
        weight,
        title: 'The grey card is too dark or clipped in most photos',
        todo: 'The white balance moves, and only the card shows by how much. Light the card better, or lock the white balance.',
      }
    case 'no shared codes':
      return {
        weight,
        title: 'The sweep does not go far enough down',
        todo: `Red must come down to where green was${depth ? `: about ${Math.ceil(depth.neededStops)} stops from the brightest` : ''}. Add darker photos, one stop apart.`,
      }
    case 'glow changed':
      return {
        weight,
        title: 'The glow changed during the sweep',
        todo: 'First and last photo of the same exposure differ too much. Wait until it is steady, or be quicker.',
      }
    case 'curve kind undecided':
      return {
        weight,
        title: 'The kind of tone curve cannot be told',
        todo: 'Take more photos just below clipping, a third of a stop apart: only the shoulder of the curve tells the two kinds apart. With hardly any shoulder no sweep can; take a raw photo.',
      }
    case 'local tone mapping':
      return {
        weight,
        title: 'The camera brightens parts of the picture by themselves',
        todo: 'Switch HDR and scene modes off, or take raw photos.',
      }
    case 'does not fit':
      return {
        weight,
        title: 'No single tone curve fits these photos',
        todo: 'Lock everything by hand, without HDR or night mode, and sweep again.',
      }
  }
}

export function sweepFindingNotice(
  { code, weight, values }: SweepFinding,
  nameOf: (frame: number) => string = (frame) => `Photo ${frame + 1}`,
): Notice {
  switch (code) {
    case 'not repeated':
      return {
        weight: 'warn',
        title: 'The first exposure was not repeated',
        todo: 'Repeat it last: only then it shows whether the glow has cooled between the photos.',
      }
    case 'drift corrected':
      return {
        weight: isSeriousDrift(values.lnRed ?? 0) ? 'warn' : 'note',
        title: `The glow changed by ${percent(Math.abs(Math.expm1(values.lnRed ?? 0)))} during the sweep`,
        todo: 'Taken into account, as a steady change.',
      }
    case 'both kinds averaged':
      return {
        weight: weight === 'warning' ? 'warn' : 'note',
        title: 'Two kinds of tone curve fit nearly as well',
        todo: 'Both are in the figure and its ±. More photos just below clipping decide it.',
      }
    case 'exposure left open':
      return {
        weight: 'warn',
        title: `${nameOf(values.frame ?? 0)} does not fit its stated exposure`,
        todo: `It looks ${stopsOff(values.lnError)}. The others are relied on instead.`,
      }
    case 'sweep short':
      return {
        weight: 'warn',
        title: `The sweep goes ${stops(values.givenStops)} stops down, ${stops(values.neededStops)} would be right`,
        todo: 'Add darker photos.',
      }
    case 'unusual contrast':
      return {
        weight: 'warn',
        title: `This camera’s contrast is ${values.contrast?.toFixed(1)}`,
        todo: 'Most are near 1.2. Check that every step counts shutter time, ISO and aperture.',
      }
    case 'frames aligned':
      return {
        weight: 'note',
        title: `The photos were shifted by up to ${values.pixels?.toFixed(1)} pixels`,
        todo: 'They were aligned. A stand is better.',
      }
    case 'blue not seen':
      return {
        weight: 'note',
        title: 'Blue is too dark to be measured',
        todo: 'Normal for a dull red. The test for odd tints is not possible then.',
      }
    case 'balance moved':
      return {
        weight: 'warn',
        title: `The white balance moved by ${percent(Math.expm1(values.lnGreenOverRed ?? 0))} between the photos`,
        todo: 'The surroundings show it, and the ± allows for it. Lock the balance, or put a grey card into the picture.',
      }
    case 'balance followed':
      return {
        weight: 'note',
        title: `The white balance moved by ${percent(Math.expm1(values.lnGreenOverRed ?? 0))} between the photos`,
        todo: `Taken out by the grey card in each.${values.left ? ` ${values.left} photos without a readable card are left out.` : ''}`,
      }
    case 'background':
      return {
        weight: 'warn',
        title: `Background light is ${percent(values.redShare)} of the glow`,
        todo: 'It was subtracted. Darken the shop or shade the piece.',
      }
  }
}
