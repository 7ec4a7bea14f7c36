import { describe, expect, test } from 'vitest'
import { planckRadiance } from '../../../src/physics/planck.ts'
import { balanceOf } from '../../../src/session/live/live-judgement.ts'
import { DriftWatch } from '../../../src/sources/live/drift-watch.ts'
import type { ControlRanges, LiveCamera } from '../../../src/sources/live/live-camera.ts'
import { refusalOf } from '../../../src/sources/live/live-camera.ts'
import { isRange, lockCamera } from '../../../src/sources/live/lock.ts'
import { type Made, madeControls } from './made-camera.ts'

/** A camera of which only the controls are real. */
function madeCamera(made: Made) {
  const { controls, asked } = madeControls(made)
  return { camera: controls as LiveCamera, asked }
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

  // Ranges as the specification writes them (W3C Image Capture, MediaSettingsRange) and as devices
  // fill them in: empty, turned round, one value, no number, missing.
  test.each([
    [{ min: 2800, max: 6500 }, true],
    [{ min: 6500, max: 6500 }, false],
    [{ min: 6500, max: 2800 }, false],
    [{ min: Number.NaN, max: Number.NaN }, false],
    [{} as { min: number; max: number }, false],
    [[2800, 6500], false],
    [undefined, false],
  ] as const)('a range of %o can be set: %s', (range, settable) => {
    expect(isRange(range)).toBe(settable)
  })

  test('odd ranges leave the modes locked and ask for nothing outside', async () => {
    const offers: ControlRanges = {
      exposureMode: ['manual'],
      iso: { min: 800, max: 50 },
      whiteBalanceMode: ['manual'],
      colorTemperature: { min: 6500, max: 6500 },
    }
    const { camera, asked } = madeCamera({ offers })
    expect(await lockCamera(camera)).toEqual({
      exposure: 'locked',
      whiteBalance: 'locked',
      focus: 'not offered',
      colourTemperatureK: null,
    })
    expect(asked).toEqual(['exposureMode', 'whiteBalanceMode'])
  })

  test('sensitivity goes to its least, daylight is kept to the range offered', async () => {
    const { camera } = madeCamera({
      offers: {
        exposureMode: ['manual'],
        iso: { min: 50, max: 3200 },
        whiteBalanceMode: ['manual'],
        colorTemperature: { min: 2300, max: 5000 },
      },
    })
    const locks = await lockCamera(camera)
    expect(camera.settings().iso).toBe(50)
    expect(locks.colourTemperatureK).toBe(5000)
    expect(balanceOf(locks, camera)).toEqual({ kind: 'locked', colourTemperatureK: 5000 })
  })

  test('one that rejects every call locks nothing and throws nothing', async () => {
    const offers: ControlRanges = {
      torch: [true, false],
      exposureMode: ['manual'],
      iso: { min: 50, max: 800 },
      whiteBalanceMode: ['manual'],
      colorTemperature: { min: 2300, max: 7500 },
      focusMode: ['manual'],
    }
    const rejects = Object.keys(offers) as (keyof ControlRanges)[]
    const { camera } = madeCamera({ offers, rejects })
    expect(await lockCamera(camera)).toEqual({
      exposure: 'refused',
      whiteBalance: 'refused',
      focus: 'refused',
      colourTemperatureK: null,
    })
  })
})

describe('watching a locked picture', () => {
  /** ln(G/R), ln(B/R), ln R of one look. */
  type Seen = readonly [number, number, number]
  const drifts = (seen: (i: number) => Seen, looks = 40) => {
    const watch = new DriftWatch()
    for (let i = 0; i < looks; i++) watch.add(seen(i))
    return watch.drifts()
  }

  test('noise and a light that only dims are no drift', () => {
    expect(drifts((i) => [-0.1 + 0.01 * Math.sin(i), -0.2 + 0.02 * Math.cos(i), -4])).toBe(false)
    expect(drifts((i) => [-0.1, -0.2, -4 - 0.02 * i])).toBe(false)
  })

  test('white balance at work is, fast or slow, also while the glow cools', () => {
    expect(drifts((i) => [-0.1 + 0.01 * i, -0.2 + 0.02 * i, -4])).toBe(true)
    expect(drifts((i) => [-0.1 + 0.0004 * i, -0.2 - 0.0008 * i, -4], 250)).toBe(true)
    expect(drifts((i) => [-0.1 + 0.01 * i, -0.2, -4 - 0.02 * i])).toBe(true)
  })

  test('walls lit by a cooling glow are not: they darken as Planck says they must', () => {
    // A black body from 1300 K to 1200 K, 650, 550, 450 nm.
    const light = (nm: number, temperatureK: number) =>
      Math.log(planckRadiance(nm * 1e-9, temperatureK))
    const seen = (i: number): Seen => {
      const at = 1300 - 2.5 * i
      const red = light(650, at)
      return [light(550, at) - red, light(450, at) - red, red]
    }
    expect(seen(39)[0] - seen(0)[0]).toBeLessThan(-0.2)
    expect(drifts(seen)).toBe(false)
  })

  test('one that drifts counts as automatic', async () => {
    const { camera } = madeCamera({ offers: { whiteBalanceMode: ['manual'] } })
    const locks = await lockCamera(camera)
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
