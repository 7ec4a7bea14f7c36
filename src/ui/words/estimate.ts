import { isSerious } from '../../estimate/severity.ts'
import type {
  Advice,
  BudgetTerm,
  Finding,
  NoNumber,
  ReferenceStatus,
} from '../../estimate/types.ts'
import { heatById } from '../../session/kit/subject.ts'
import { plainNumber } from '../plain-number.ts'

export const TERM_NAMES: Record<BudgetTerm, string> = {
  camera: 'This camera’s colours',
  'infrared leak': 'Infrared that the camera may see',
  'colour rendering': 'Vivid colours of the photo',
  'balance drift': 'White balance that may move',
  'reference temperature': 'Known heats: their temperature',
  'reference photo': 'Known heats: their photos',
  'pixel noise': 'Pixel noise',
  'grey reference': 'Grey card and its light',
  'tone curve': 'Tone curve of the photo',
  surface: 'Surface',
  window: 'Glass in front',
  'thin glow': 'Thin glow, sharpened edges',
  'off locus': 'Colour that a glow should not have',
  brightness: 'Brightness: place, exposure, surface',
}

export type Weight = 'stop' | 'warn' | 'note'

export interface Notice {
  readonly weight: Weight
  readonly title: string
  readonly todo: string
}

const percent = (share: number) => {
  const value = 100 * share
  return `${value >= 10 ? value.toFixed(0) : plainNumber(value)} %`
}

/** 0.0005 as 2000: how many parts one leaks of, to one digit or 15. */
export function oneIn(share: number): string {
  const parts = 1 / share
  const step = 10 ** Math.floor(Math.log10(parts))
  const steps = parts / step
  return `${(steps < 2 ? Math.round(2 * steps) / 2 : Math.round(steps)) * step}`
}

function conflictNotice(
  { otherSalt }: Extract<Finding, { code: 'reference conflicts' }>,
  name: string,
): Notice {
  const other = otherSalt && heatById(otherSalt.id)?.name
  if (otherSalt && otherSalt.chance < 0.5)
    return {
      weight: 'warn',
      title: `Only its label says which salt “${name}” is`,
      todo: `It could also be “${other}”: the ± allows for both. A second known heat settles it.`,
    }
  return {
    weight: 'warn',
    title: `“${name}” disagrees with the rest`,
    todo: otherSalt
      ? `“${other}” would fit better: look which salt it was. The ± allows for both.`
      : 'It is off by more than its uncertainty allows. Take it again or switch it off in the kit.',
  }
}

/** A finding as a sentence: what was seen, and what to do. */
export function noticeFromFinding(
  finding: Finding,
  show: (temperatureK: number) => string,
  nameOfReference: (id: string) => string,
): Notice {
  switch (finding.code) {
    case 'clipped':
      return {
        weight: isSerious(finding) ? 'stop' : 'warn',
        title: `Overexposed: ${percent(finding.share)} of the region is clipped`,
        todo: 'Clipped glow looks hotter than it is. Expose less, or move the region off the bright core.',
      }
    case 'off locus':
      return finding.verdict === 'too blue'
        ? {
            weight: 'warn',
            title: 'Bluer than a glow of this red can be',
            todo: 'Haze, flare or stray light, or more infrared than filters let through. Shade the lens, switch lights off, put heat-absorbing glass in front.',
          }
        : {
            weight: 'warn',
            title: 'Yellower or greener than a glow can be',
            todo: 'Wrong white balance, a flame, a tinted window, or light that is no heat glow. Check the grey card and what stands in front.',
          }
    case 'infrared leak':
      return {
        weight: 'note',
        title: `The camera sees some infrared: about 1 part in ${oneIn(finding.share)}`,
        todo: 'The reading allows for it. A second known heat at another temperature tells how much; heat-absorbing glass in front of the lens takes it away.',
      }
    case 'no grey reference':
      return {
        weight: 'warn',
        title: 'No grey card',
        todo: 'The camera’s white balance is taken on trust. Photograph a grey card in daylight or filament light with the same lock.',
      }
    case 'white balance automatic':
      return {
        weight: 'warn',
        title: 'White balance was automatic',
        todo: 'It tries to turn the glow grey. Lock it on daylight and take the photo again.',
      }
    case 'white balance unknown':
      return {
        weight: 'note',
        title: 'White balance not known',
        todo: 'Say below how it was set; a lock on daylight is the best understood.',
      }
    case 'tone curve unknown':
      return {
        weight: 'note',
        title: 'Ordinary photo: its tone curve is unknown',
        todo: 'A raw photo (DNG) or an exposure sweep takes this away.',
      }
    case 'green at floor':
      return {
        weight: 'warn',
        title: `No green left in ${percent(finding.share)} of the region`,
        todo: 'Expose longer, as long as red does not clip.',
      }
    case 'background':
      return {
        weight: isSerious(finding) ? 'warn' : 'note',
        title: `Background light is ${percent(finding.share)} of the glow`,
        todo: 'It was subtracted. Darken the shop or shade the piece.',
      }
    case 'thin glow':
      return {
        weight: 'warn',
        title: `The glow is only ${finding.widthPixels.toFixed(0)} pixels wide`,
        todo: 'Photos smooth colour over some pixels: what lies beside the glow mixes in. Go closer or zoom in, keeping the phone cool.',
      }
    case 'reference conflicts':
      return conflictNotice(finding, nameOfReference(finding.referenceId))
    case 'brightness joined':
      return {
        weight: 'note',
        title: 'Read by colour and by brightness',
        todo: 'The glow’s level against your known heat agrees with its colour.',
      }
    case 'brightness overruled':
      return {
        weight: 'warn',
        title: 'Its brightness does not fit its colour',
        todo: 'Other surface, smoke, a wrong shutter label or flare: the colour was taken. Photograph it as the known heat was.',
      }
    case 'reference old':
      return {
        weight: 'note',
        title: `“${nameOfReference(finding.referenceId)}” is ${finding.ageDays.toFixed(0)} days old`,
        todo: 'Camera software changes. Take it again when you can.',
      }
    case 'reference not used':
      return {
        weight: 'note',
        title: `“${nameOfReference(finding.referenceId)}” was not used: ${REFERENCE_STATUS[finding.status]}`,
        todo: 'A known heat counts for the same camera with the same white balance only.',
      }
    case 'beyond range of locus':
      return {
        weight: 'warn',
        title: `Beyond the range of the camera model, ${show(finding.limitK)}`,
        todo: 'Read it as a bound, and compare with the chart.',
      }
  }
}

export const REFERENCE_STATUS: Record<ReferenceStatus, string> = {
  used: 'used',
  conflicting: 'disagrees',
  'other camera': 'another camera',
  'other channels': 'raw and photo do not mix',
  'other white balance': 'another white balance',
  'white balance not fixed': 'white balance was not fixed',
  'out of range': 'out of range',
}

/** What would shrink the uncertainty most, in one sentence. */
export function adviceSentence(
  advice: Advice,
  showPlusMinus: (standardUncertaintyK: number) => string,
  show: (temperatureK: number) => string,
): string | null {
  const to = `to about ${showPlusMinus(advice.predictedStandardUncertaintyK)}`
  switch (advice.code) {
    case 'known heat':
      return `A known heat near ${show(advice.nearK ?? 1173)} would cut this ${to}.`
    case 'second known heat':
      return `A second known heat, near ${show(advice.nearK ?? 1173)}, would cut this ${to}.`
    case 'sweep or raw':
      return `A raw photo or an exposure sweep would cut this ${to}.`
    case 'matched level':
      return `A known heat photographed with red at this same level would cut this ${to}.`
    case 'grey reference':
      return `A grey card in daylight or filament light would cut this ${to}.`
    case 'try lock':
      return `A second photo of the card that agrees with the first would cut this ${to}.`
    case 'surface':
      return `A drilled hole or a closed kiln needs no surface: it would cut this ${to}.`
    case 'more light':
      return `A brighter photo without clipping would cut this ${to}.`
    case 'set white balance':
      return `Lock white balance on daylight first: with that, a grey card and a known heat this can come down ${to}.`
    case 'find cause of tint':
      return `Without the odd tint this would be ${to.replace('to ', '')}.`
    case 'nothing':
      return null
  }
}

export const NO_NUMBER: Record<NoNumber['reason'], { title: string; todo: string }> = {
  clipped: {
    title: 'Overexposed',
    todo: 'Too much of the region is clipped, and clipped glow looks hotter than it is. Expose less until the marks go, or choose a darker part.',
  },
  dark: {
    title: 'Too dark',
    todo: 'Red is lost in the noise here. Expose longer, or choose a brighter part.',
  },
  'above range': {
    title: 'Not the colour of a glow',
    todo: 'This is not red enough for anything that glows by heat within range. Check that the region lies on the glow and that white balance was not automatic.',
  },
  'bad input': {
    title: 'No reading',
    todo: 'A value was missing or not a number. Choose the region again, or open the photo again.',
  },
}
