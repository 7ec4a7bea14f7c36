/** Whether one can compute with the numbers of an input at all. */
import { isCovariance } from '../numerics/covariance.ts'
import type { GlowInput } from './types.ts'

/** All numbers finite, covariances possible ones. */
export function sound({ references, window, ...reading }: GlowInput): boolean {
  return (
    soundPhoto(reading) &&
    (window === null ||
      (Number.isFinite(window.lnGreenOverRed) && window.standardUncertainty >= 0)) &&
    references.every(
      (reference) =>
        soundPhoto(reference) &&
        reference.standardUncertaintyK >= 0 &&
        Number.isFinite(reference.temperatureK),
    )
  )
}

type Shown = Pick<GlowInput, 'glow' | 'balance' | 'linearity' | 'surface'>

const soundPhoto = ({ glow, balance, linearity, surface }: Shown): boolean =>
  glow.mean.every(Number.isFinite) &&
  isCovariance(glow.covariance) &&
  (balance === null ||
    (balance.logGains.every(Number.isFinite) &&
      isCovariance(balance.covariance) &&
      balance.light.colourTemperatureK > 0 &&
      balance.light.standardUncertaintyK >= 0)) &&
  soundLinearity(linearity) &&
  surface.standardUncertainty >= 0 &&
  Number.isFinite(surface.lnGreenOverRed)

function soundLinearity(linearity: GlowInput['linearity']): boolean {
  if (linearity.kind === 'single') return linearity.storedLevels.every(Number.isFinite)
  if (linearity.kind !== 'sweep') return true
  const { standardUncertaintyGreen, standardUncertaintyBlue, greenErrors, ownUncertainty } =
    linearity
  return (
    standardUncertaintyGreen >= 0 &&
    standardUncertaintyBlue >= 0 &&
    (greenErrors ?? []).every(Number.isFinite) &&
    (ownUncertainty ?? 0) >= 0 &&
    (linearity.photos ?? 1) >= 1
  )
}
