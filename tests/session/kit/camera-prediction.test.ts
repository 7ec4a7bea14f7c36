import { beforeEach, describe, expect, test, vi } from 'vitest'
import type { GreyBalance, KnownHeatReference } from '../../../src/estimate/types.ts'
import { type CameraPrediction, predictCamera } from '../../../src/session/kit/camera-prediction.ts'
import type { CameraProfile } from '../../../src/session/kit/camera-profile.ts'
import { predictionOf as storedPrediction } from '../../../src/session/kit/stored-prediction.ts'
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

/** A camera whose balance is free for each picture. */
const cannot = (way: 'raw' | 'card in picture', more = {}): CameraProfile => {
  const { stored, ...rest } = profileWith([])
  const lock = { kind: 'cannot be locked', way, since: now.toISOString() } as const
  return { ...rest, stored: { ...stored!, data: { ...stored!.data, lock, skipped: [], ...more } } }
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

describe('what a camera lacks', () => {
  const best = ({ withK }: CameraPrediction) => Math.min(...Object.values(withK))
  test('where the balance cannot be locked, raw pictures need no sweep, a card beside no known heat', () => {
    const raw = predictionOf(cannot('raw'))
    expect(Object.keys(raw.withK)).toEqual(['card', 'heat'])
    const beside = predictionOf(cannot('card in picture'))
    expect(Object.keys(beside.withK)).toEqual(['card', 'sweep'])
    for (const found of [raw, beside]) {
      expect(best(found)).toBeLessThan(found.nowK!)
      // The step that helps most comes next; all together are no worse.
      expect(found.withK[found.next!]).toBe(best(found))
      expect(found.readyK).toBeLessThanOrEqual(best(found))
      // There is no first known heat yet.
      expect(found.second).toBeNull()
    }
  })
})

describe('a prediction that was made', () => {
  const texts = new Map<string, string>()
  /** Only a sweep is missing. */
  const known = cannot('card in picture', {
    cardPlace: { x: 0.1, y: 0.1, width: 0.1, height: 0.1 },
  })
  const aborted = AbortSignal.abort()
  beforeEach(() => {
    vi.stubGlobal('localStorage', {
      getItem: (name: string) => texts.get(name) ?? null,
      setItem: (name: string, text: string) => void texts.set(name, text),
    })
  })
  /** Undefined where it would have to be worked out. */
  const remembered = (profile: CameraProfile, at = now) => storedPrediction(profile, at, aborted)
  const data = (change: object) =>
    ({
      ...known,
      stored: { ...known.stored, data: { ...known.stored!.data, ...change } },
    }) as CameraProfile

  test('is there at once as long as nothing has changed, and no longer', async () => {
    expect(await remembered(known)).toBeUndefined()
    const made = await storedPrediction(known, now, new AbortController().signal)
    expect(made!.nowK).toBeGreaterThan(0)
    const later = new Date(now.getTime() + 3_600_000)
    expect(await remembered(known, later)).toEqual(made)
    const grey = { id: 'card' } as CameraProfile['greys'][number]
    const curve = { id: 'curve', check: null } as CameraProfile['curves'][number]
    for (const [what, changed] of Object.entries({
      device: { ...known, device: 'another' },
      lock: data({ lock: null }),
      surface: data({ usual: { object: '', materialId: 'cavity', cover: 'none' } }),
      skipped: data({ skipped: ['sweep'] }),
      'leak tests': data({ leakTests: [{ test: 'hot plate', seen: false }] }),
      card: { ...known, greys: [grey] },
      'known heat': profileWith([salt]),
      curve: { ...known, curves: [curve] },
    }))
      expect(await remembered(changed), what).toBeUndefined()
    // Pieces age by the day.
    expect(await remembered(known, new Date(now.getTime() + 86_400_000))).toBeUndefined()
  })

  test('is none where what was kept is damaged, or storage is refused', async () => {
    for (const name of texts.keys()) texts.set(name, '{')
    expect(await remembered(known)).toBeUndefined()
    vi.stubGlobal('localStorage', undefined)
    expect(await remembered(known)).toBeUndefined()
  })
})
