import { estimateGlow } from '../../estimate/estimate-glow.ts'
import type { GlowInput } from '../../estimate/types.ts'
import { deviceZone } from '../../log/schema/moment.ts'
import { FIRST_CHOICES, surfaceOf } from './glow-input.ts'

/** A supposed photo of a glow at some 900 °C, of a camera that nobody knows. */
const SUPPOSED: Omit<GlowInput, 'surface'> = {
  glow: {
    mean: [0.52, 0.033, 0.0015],
    covariance: [
      [1e-6, 0, 0],
      [0, 1e-8, 0],
      [0, 0, 1e-9],
    ],
  },
  channels: 'display-p3',
  cameraToXyz: null,
  balance: null,
  balanceState: FIRST_CHOICES.balanceState,
  linearity: { kind: 'single', curveId: '', storedLevels: [0.75, 0.2, 0.02], space: 'srgb' },
  quality: {
    clippedShare: 0,
    floorShare: [0, 0, 0],
    backgroundShare: 0,
    glowWidthPixels: 100,
    chromaSubsampled: true,
  },
  window: null,
  cameraId: '',
  takenAt: null,
  references: [],
}

/**
 * Estimates a supposed photo and drops the result: the first run of cold code takes a phone more than
 * twice as long as the next one, and a person is choosing a photo meanwhile. So does the first look
 * at the time zone.
 */
export function warmUpEstimate(): void {
  deviceZone()
  estimateGlow({ ...SUPPOSED, surface: surfaceOf('') })
}
