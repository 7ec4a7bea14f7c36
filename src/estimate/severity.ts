import type { Finding } from './glow-estimate.ts'

/** Above one clipped pixel in a hundred the mean is no longer the glow's (common practice). */
const SERIOUS_CLIPPED_SHARE = 0.01
/** Above a tenth, what the subtraction leaves open weighs beside the other terms. */
const SERIOUS_BACKGROUND_SHARE = 0.1
/** Change of ln(red light) during a sweep above which "steady" is an assumption that matters. */
const SERIOUS_SWEEP_DRIFT = 0.1

/** Whether a finding asks for another photo, or only for a look. */
export function isSerious(finding: Finding): boolean {
  if (finding.code === 'clipped') return finding.share > SERIOUS_CLIPPED_SHARE
  if (finding.code === 'background') return finding.share > SERIOUS_BACKGROUND_SHARE
  return false
}

/** @param lnRed drift of the red light during a sweep, natural logarithm */
export const isSeriousDrift = (lnRed: number): boolean => Math.abs(lnRed) > SERIOUS_SWEEP_DRIFT
