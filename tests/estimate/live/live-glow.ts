import type { GlowInput } from '../../../src/estimate/types.ts'

/** What a look at a live glow of about 1200 K gives the estimate; made up. */
export const input: GlowInput = {
  glow: {
    mean: [0.5, 0.055, 0.004],
    covariance: [
      [1e-8, 0, 0],
      [0, 1e-8, 0],
      [0, 0, 1e-8],
    ],
  },
  channels: 'display-p3',
  cameraToXyz: null,
  balance: null,
  balanceState: { kind: 'daylight', colourTemperatureK: 6500 },
  linearity: { kind: 'linear' },
  quality: {
    clippedShare: 0,
    floorShare: [0, 0, 0],
    backgroundShare: 0,
    glowWidthPixels: 80,
    chromaSubsampled: true,
  },
  surface: { id: 'grey', lnGreenOverRed: 0, standardUncertainty: 0.03 },
  window: null,
  cameraId: 'made up',
  takenAt: null,
  references: [],
}
