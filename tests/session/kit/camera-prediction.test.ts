import { expect, test } from 'vitest'
import type { GreyBalance, KnownHeatReference } from '../../../src/estimate/types.ts'
import { type CameraPrediction, predictCamera } from '../../../src/session/kit/camera-prediction.ts'
import type { CameraProfile } from '../../../src/session/kit/camera-profile.ts'
import { BALANCE, kitItem, REFERENCE } from './items.ts'

const now = new Date('2026-03-02T10:00:00Z')
const state = { kind: 'locked', colourTemperatureK: null } as const
const balance = BALANCE as unknown as GreyBalance

/** A camera with lock, card and salt; its curve is a sweep's. */
function profileWith(heats: readonly KnownHeatReference[]): CameraProfile {
  return {
    device: 'Made-up phone',
    stored: {
      item: kitItem({ id: 'camera', kind: 'camera' }),
      data: {
        lock: {
          kind: 'locked',
          state,
          since: now.toISOString(),
          facts: { exposureProgram: null, software: null, lens: null },
        },
        usual: null,
        skipped: ['sweep'],
        cardPlace: null,
        usedAt: now.toISOString(),
      },
    },
    greys: [],
    curves: [],
    heats: heats.map((reference) => ({
      item: kitItem({ id: reference.id, kind: 'known heat' }),
      reference,
      off: false,
      origin: null,
      cameraToXyz: null,
    })),
  } as unknown as CameraProfile
}

/** Salt, as the mean camera shows it: ln(G/R) 0.29 below that at 900 °C; by one of the phone's lenses. */
const salt: KnownHeatReference = {
  ...REFERENCE,
  id: 'salt',
  name: 'salt',
  cameraId: 'Made-up phone · wide',
  balance,
  balanceState: state,
  glow: { ...REFERENCE.glow, mean: [0.5, 0.0237, 0.0011] },
}

function predictionOf(profile: CameraProfile): CameraPrediction {
  const work = predictCamera(profile, now)
  for (;;) {
    const step = work.next()
    if (step.done) return step.value
  }
}

test('a second known heat near 900 °C is offered with what it brings, and not once it is there', () => {
  // A raw photo of a known heat says nothing of ordinary ones: by it alone they would be ± 125 K.
  const ofRaw = { ...salt, id: 'raw', channels: 'camera' } as const
  const { nowK, second } = predictionOf(profileWith([ofRaw, salt]))
  expect(nowK).toBeLessThan(75)
  expect(second!.heat).toBe('sodium-sulfate')
  expect(second!.withK).toBeLessThan(0.8 * nowK!)
  const sulfate = {
    ...salt,
    id: 'sulfate',
    temperatureK: 1157.85,
    glow: { ...salt.glow, mean: [0.5, 0.031, 0.0014] as const },
  }
  expect(predictionOf(profileWith([salt, sulfate])).second).toBeNull()
})
