import { signal } from '@preact/signals'
import type { LiveLine } from '../../../src/estimate/live/live-line.ts'
import type { LiveFrameReading, LiveModel } from '../../../src/session/live/live-model-type.ts'

/** Frames a second. */
const FRAME_MS = 33

/** As much of a live model as a recorder needs: thirty frames a second of a made-up glow. */
export function recordedModel(): LiveModel {
  const line = {
    estimate: { kind: 'temperature', temperatureK: 1200, standardUncertaintyK: 20, budget: [] },
    input: { glow: { mean: [1, 0.1, 0.01] }, linearity: { kind: 'linear' } },
    lnRatio: -2,
    slopeK: 300,
  } as unknown as LiveLine
  const desk = {
    choices: signal({ materialId: 'steel-oxidised', cover: 'none' }),
    object: signal('Made-up bar'),
  }
  const camera = { kind: 'practice', id: 'a made-up camera', settings: () => ({}) }
  const model = {
    camera,
    desk,
    locks: signal(null),
    rolling: signal(null),
    onReading(listener: (frame: LiveFrameReading) => void) {
      let n = 0
      const timer = setInterval(() => {
        listener({ plain: -2 - 1e-4 * n++, lnRed: -1, line, anchor: -2 })
      }, FRAME_MS)
      return () => clearInterval(timer)
    },
  }
  return model as unknown as LiveModel
}
