import type { GlowInput, KnownHeatReference } from './types.ts'

/** A known heat photographed just as a reading was; a heat of its own, in no group. */
export function referenceLike(
  photo: Pick<
    GlowInput,
    'glow' | 'channels' | 'balance' | 'balanceState' | 'linearity' | 'surface' | 'cameraId'
  >,
  heat: Pick<
    KnownHeatReference,
    'id' | 'name' | 'takenAt' | 'temperatureK' | 'standardUncertaintyK'
  >,
): KnownHeatReference {
  const { glow, channels, balance, balanceState, linearity, surface, cameraId } = photo
  const { id, name, takenAt, temperatureK, standardUncertaintyK } = heat
  return {
    ...{ id, name, takenAt, temperatureK, standardUncertaintyK },
    ...{ glow, channels, balance, balanceState, linearity, surface, cameraId },
    group: null,
  }
}
