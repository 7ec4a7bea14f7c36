import type { CauseOfImpossible, LimitFinding } from '../../physics/limits.ts'
import type { Notice } from './estimate.ts'

export const CAUSE_WORDS: Record<CauseOfImpossible, string> = {
  'tone curve': 'the tone curve of the photo',
  'white balance': 'a wrong white balance',
  reflection: 'light that is mirrored or shines on it',
  'wrong material': 'another material than stated',
  'flame or plasma light': 'light of a flame or an arc',
}

/** What the material's limits say of a temperature; null where they say nothing against it. */
export function limitNotice(
  finding: LimitFinding,
  material: string,
  show: (temperatureK: number) => string,
): Notice | null {
  const limit = finding.limitK === undefined ? '' : show(finding.limitK)
  const causes = `Likely causes, in order: ${finding.causes.map((cause) => CAUSE_WORDS[cause]).join('; ')}.`
  switch (finding.verdict) {
    case 'impossible':
      return {
        weight: 'stop',
        title: `Impossible as stated: ${material} is molten above ${limit}`,
        todo: causes,
      }
    case 'above melting':
      return {
        weight: 'warn',
        title: `Above where ${material} is molten, ${limit}`,
        todo: `Within the ± it could be below. ${causes}`,
      }
    case 'melting':
      return {
        weight: 'warn',
        title: `${material} begins to melt at ${limit}`,
        todo: 'Is it really that soft? If not, the reading is high or the material another one.',
      }
    case 'above service':
      return {
        weight: 'note',
        title: `Above the limit of continuous use, ${limit}: ${material}`,
        todo: 'No fault of the reading. A short heat may go above it; a part that stays this hot wears away.',
      }
    default:
      return null
  }
}
