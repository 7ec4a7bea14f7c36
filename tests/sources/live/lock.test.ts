import { describe, expect, test } from 'vitest'
import { balanceOf } from '../../../src/screens/live/live-judgement.ts'
import type {
  ControlName,
  ControlRanges,
  ControlSettings,
  ControlValue,
  LiveCamera,
} from '../../../src/sources/live/live-camera.ts'
import { refusalOf } from '../../../src/sources/live/live-camera.ts'
import { DriftWatch, lockCamera } from '../../../src/sources/live/lock.ts'

interface Made {
  readonly offers: ControlRanges
  readonly starts?: ControlSettings
  /** Names that reject, and names that answer well and change nothing. */
  readonly rejects?: readonly ControlName[]
  readonly ignores?: readonly ControlName[]
}

/** A track made up for the test: what it offers, what it does. */
function madeCamera({ offers, starts = {}, rejects = [], ignores = [] }: Made) {
  const settings: Record<string, ControlValue> = { ...starts } as Record<string, ControlValue>
  const asked: ControlName[] = []
  const camera = {
    capabilities: () => offers,
    settings: () => settings as ControlSettings,
    async apply(name: ControlName, value: ControlValue) {
      asked.push(name)
      if (rejects.includes(name)) throw new DOMException('no', 'OverconstrainedError')
      if (!ignores.includes(name)) settings[name] = value
    },
  } as unknown as LiveCamera
  return { camera, asked }
}

const MODES = ['exposureMode', 'whiteBalanceMode', 'focusMode'] as const
const PARTS = {
  exposureMode: 'exposure',
  whiteBalanceMode: 'whiteBalance',
  focusMode: 'focus',
} as const

describe('locking', () => {
  test('every combination of offered modes locks what is offered, and asks for nothing else', async () => {
    for (let bits = 0; bits < 8; bits++) {
      const offered = MODES.filter((_, i) => bits & (1 << i))
      const offers = Object.fromEntries(offered.map((name) => [name, ['continuous', 'manual']]))
      const { camera, asked } = madeCamera({ offers })
      const locks = await lockCamera(camera)
      for (const name of MODES)
        expect(locks[PARTS[name]]).toBe(offered.includes(name) ? 'locked' : 'not offered')
      expect(asked).toEqual(offered)
    }
  })

  test('one that rejects or ignores a lock is found out by reading back', async () => {
    const offers = { exposureMode: ['manual'], whiteBalanceMode: ['manual'], focusMode: ['manual'] }
    const starts = { exposureMode: 'continuous', whiteBalanceMode: 'continuous' }
    const { camera } = madeCamera({
      offers,
      starts,
      rejects: ['exposureMode'],
      ignores: ['whiteBalanceMode'],
    })
    expect(await lockCamera(camera)).toMatchObject({
      exposure: 'refused',
      whiteBalance: 'refused',
      focus: 'locked',
    })
  })

  test('a torch is switched off, and the balance goes to daylight within its range', async () => {
    const { camera } = madeCamera({
      offers: {
        torch: [true, false],
        whiteBalanceMode: ['manual'],
        colorTemperature: { min: 2500, max: 6000 },
      },
      starts: { torch: true },
    })
    const locks = await lockCamera(camera)
    expect(camera.settings().torch).toBe(false)
    expect(locks.colourTemperatureK).toBe(6000)
    expect(balanceOf(locks, camera)).toEqual({ kind: 'daylight', colourTemperatureK: 6000 })
  })

  test('what does not lock is automatic where the camera says so, else unknown', async () => {
    const automatic = madeCamera({ offers: {}, starts: { whiteBalanceMode: 'continuous' } }).camera
    expect(balanceOf(await lockCamera(automatic), automatic).kind).toBe('automatic')
    const silent = madeCamera({ offers: {} }).camera
    expect(balanceOf(await lockCamera(silent), silent).kind).toBe('unknown')
  })

  test('a lying camera drifts, and counts as automatic', async () => {
    const { camera } = madeCamera({ offers: { whiteBalanceMode: ['manual'] } })
    const locks = await lockCamera(camera)
    const [lying, honest] = [new DriftWatch(), new DriftWatch()]
    for (let i = 0; i < 20; i++) {
      lying.add(-0.1 + 0.01 * i, -0.2 + 0.02 * i)
      honest.add(-0.1 + 0.01 * Math.sin(i), -0.2)
    }
    expect(honest.drifts()).toBe(false)
    expect(lying.drifts()).toBe(true)
    expect(balanceOf({ ...locks, whiteBalance: 'drifts' }, camera).kind).toBe('automatic')
  })
})

test('refusals are told apart by the names of the standard (W3C Media Capture, 10.6)', () => {
  const named = (name: string) => refusalOf(new DOMException('', name))
  expect(named('NotAllowedError')).toBe('denied')
  expect(named('NotFoundError')).toBe('none')
  expect(named('NotReadableError')).toBe('busy')
  expect(named('TypeError')).toBe('failed')
})
