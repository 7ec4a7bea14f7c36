import { describe, expect, test } from 'vitest'
import {
  cameraIdOf,
  curveIdOf,
  deviceIdOf,
  linearityOf,
  stateOf,
  takenAtOf,
} from '../../../src/session/reading/photo-meaning.ts'
import type { PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

const facts = (part: Record<string, unknown> = {}) => part as unknown as PhotoFacts
const ALL = facts({ make: 'Made-up', model: 'One', lens: 'wide', software: '1.0' })

describe('what a file says of its camera', () => {
  test('device, lens and software tell cameras and curves apart, each by its own', () => {
    const ids = (change: object) => {
      const of = facts({ ...ALL, ...change })
      return [deviceIdOf(of), cameraIdOf(of), curveIdOf(of)]
    }
    const [device, camera, curve] = ids({})
    expect(ids({ model: 'Two' })).not.toContain(device)
    expect(ids({ lens: 'tele' })[0]).toBe(device)
    expect(ids({ lens: 'tele' })[1]).not.toBe(camera)
    expect(ids({ software: '2.0' })[1]).toBe(camera)
    expect(ids({ software: '2.0' })[2]).not.toBe(curve)
  })

  test('where it says nothing, the device is empty and camera and curve have a name for it', () => {
    expect(deviceIdOf(facts())).toBe('')
    expect(deviceIdOf(facts({ make: null, model: 'One' }))).toBe('One')
    expect(cameraIdOf(facts())).not.toBe('')
    expect(curveIdOf(facts())).not.toBe('')
  })
})

describe('the white balance of a new photo', () => {
  const state = (channels: string, whiteBalance: string | null, kind: string) =>
    stateOf({ channels, facts: facts({ whiteBalance }) } as never, { kind } as never).kind

  test('is none of raw pixels, and free where the file says automatic', () => {
    expect(state('camera', 'automatic', 'daylight')).toBe('raw')
    expect(state('display-p3', 'automatic', 'daylight')).toBe('automatic')
  })

  test('is else what was said before, but not that it was raw', () => {
    expect(state('display-p3', 'manual', 'daylight')).toBe('daylight')
    expect(state('display-p3', null, 'locked')).toBe('locked')
    expect(state('display-p3', null, 'raw')).toBe('unknown')
  })
})

describe('when a photo was taken', () => {
  const now = new Date('2026-05-04T10:00:00.000Z')
  const at = (takenAt: string | null) => takenAtOf(facts({ takenAt }), now)

  test('is what the camera says, with its zone where it says one', () => {
    for (const iso of [
      '2026-01-02T03:04:05+02:00',
      '2026-01-02T03:04:05Z',
      '2026-01-02T03:04:05.5-08:00',
    ])
      expect(at(iso)).toEqual({ iso, zone: '' })
  })

  test('is in the zone of the device where it says none, and now where it says nothing', () => {
    expect(Date.parse(at('2026-01-02T03:04:05').iso)).toBe(
      new Date('2026-01-02T03:04:05').getTime(),
    )
    expect(Date.parse(at(null).iso)).toBe(now.getTime())
  })
})

describe('the way from code to light', () => {
  const measurement = { storedLevels: [0.5, 0.3, 0.1] } as never
  const of = (channels: string) => ({ channels, facts: ALL, space: 'srgb' }) as unknown as Photo

  test('of raw pixels is straight; of a photo its own unknown curve', () => {
    expect(linearityOf(of('camera'), measurement, null)).toEqual({ kind: 'raw' })
    expect(linearityOf(of('display-p3'), measurement, null)).toEqual({
      kind: 'single',
      curveId: curveIdOf(ALL),
      storedLevels: [0.5, 0.3, 0.1],
      space: 'srgb',
    })
  })
})
