import { describe, expect, test, vi } from 'vitest'
import { findPlateaus } from '../../../src/estimate/recording/plateaus.ts'
import { look } from '../../../src/sources/live/look.ts'
import { practiceCode, practiceGlow } from '../../../src/sources/live/practice-camera.ts'
import { readFrames } from '../../../src/sources/video/read-frames.ts'
import type { VideoReading } from '../../../src/sources/video/video-operations.ts'
import { seeded } from '../../accuracy/random.ts'
import { type Film, film } from './simulated-film.ts'

vi.setConfig({ testTimeout: 120_000 })

const STRAY = 0.0005
const EXPOSURE = 0.35
/** What the mean of measured cameras stores of a body at a temperature: tests/../practice-camera. */
const codesAt = (temperatureK: number, exposure = EXPOSURE) => {
  const [r, g, b] = practiceGlow(temperatureK)
  const code = (light: number) => practiceCode(exposure * (light + STRAY))
  return [code(r), code(g), code(b)] as const
}

const READING: Omit<VideoReading, 'file'> = {
  region: null,
  captureSeconds: 1,
  perSecond: 5,
  curve: { id: 'a stream', recovered: null, movedBy: 0 },
  settings: {
    channels: 'display-p3',
    cameraToXyz: null,
    balanceState: { kind: 'daylight', colourTemperatureK: 6500 },
    surface: { id: 'grey', lnGreenOverRed: 0, standardUncertainty: 0.02 },
    window: null,
    cameraId: 'a camera',
    takenAt: null,
    references: [],
  },
}

const read = (made: Partial<Film> & Pick<Film, 'codes'>, reading: Partial<VideoReading> = {}) =>
  readFrames(
    film({ seconds: 12, perSecond: 10, ground: practiceCode(EXPOSURE * STRAY), ...made }),
    { ...READING, ...reading },
    look,
  )

describe('a film of a bar that cools', () => {
  /** Read once for all that is asked of it. */
  let cooled: ReturnType<typeof read> | undefined
  const cooling = () => {
    cooled ??= read({ codes: (t) => codesAt(1240 - 8 * t) })
    return cooled
  }

  test('gives readings in order, none of them across frames of another', async () => {
    const { ms, temperatureK, gap, looks } = await cooling()
    expect(ms.length).toBe(60)
    expect(ms.every((at, i) => i === 0 || at > ms[i - 1]!)).toBe(true)
    expect(gap.every((why) => why === null)).toBe(true)
    expect(temperatureK.every((kelvin, i) => i < 5 || kelvin < temperatureK[i - 5]!)).toBe(true)
    expect(looks.length).toBeGreaterThan(2)
  })

  test('has a slope within what is stated for it', async () => {
    const { ms, temperatureK, commonK } = await cooling()
    const mean = (from: number) => {
      const part = temperatureK.filter((_, i) => ms[i]! >= from && ms[i]! < from + 2000)
      return part.reduce((a, b) => a + b, 0) / part.length
    }
    const slope = (mean(10_000) - mean(0)) / 10
    // Without a known tone curve: twice the relative uncertainty of the temperature, k = 2.
    expect(Math.abs(slope + 8) / 8).toBeLessThan((4 * commonK[30]!) / 1200)
  })

  test('with a plateau shows it to half a second', async () => {
    const truth = (t: number) => 1240 - 8 * (t < 6 ? t : Math.max(6, t - 8))
    const { ms, temperatureK } = await read({ codes: (t) => codesAt(truth(t)), seconds: 20 })
    const [plateau, ...others] = findPlateaus({ seconds: ms.map((at) => at / 1000), temperatureK })
    expect(others).toEqual([])
    expect(plateau).toMatchObject({ kind: 'plateau', during: 'cooling' })
    expect(Math.abs(plateau!.fromSeconds - 6)).toBeLessThan(0.5)
    expect(Math.abs(plateau!.toSeconds - 14)).toBeLessThan(0.5)
  })
})

describe('what is no number', () => {
  test('a glow that is gone for a while is a gap, and is found again elsewhere', async () => {
    const { gap, ms } = await read({
      codes: (t) => (t > 4 && t < 7 ? null : codesAt(1200)),
      moved: (t) => (t < 5 ? 0 : 60),
    })
    const at = (seconds: number) => gap[ms.findIndex((value) => value >= 1000 * seconds)]
    expect(at(2)).toBeNull()
    expect(at(5.5)).toBe('lost')
    expect(at(9)).toBeNull()
  })

  test('an overexposed glow is a gap', async () => {
    const { gap } = await read({ codes: () => codesAt(1250, 3), seconds: 3 })
    expect(new Set(gap)).toEqual(new Set(['clipped']))
  })
})

test('a lamp that beats with the shutter is told as flicker, a steady one is not', async () => {
  const beats = await read({
    // 100 Hz at 30 frames a second turn each third frame.
    codes: (t) => codesAt(1200, EXPOSURE * (1 + 0.15 * Math.sin(2 * Math.PI * 10 * t + 0.5))),
    seconds: 3,
    perSecond: 30,
  })
  expect(beats.flickers.filter(Boolean).length).toBeGreaterThan(8)
  expect(beats.gap.some((why) => why === null)).toBe(true)
  const still = await read({ codes: () => codesAt(1200), seconds: 3 })
  expect(still.flickers.some(Boolean)).toBe(false)
})

test('slow motion counts the time of the real thing', async () => {
  const { ms } = await read(
    { codes: () => codesAt(1200), seconds: 4 },
    { captureSeconds: 1 / 8, perSecond: 40 },
  )
  // Four seconds of film are half a second: twenty readings, each at its middle.
  expect(ms).toHaveLength(20)
  expect(ms.at(-1)).toBe(488)
})

test('frames that come unevenly keep their own times; where none came there is no reading', async () => {
  const times = [0, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 2, 2.25, 2.5]
  const kelvin = (t: number) => 1180 - 10 * t
  async function* uneven() {
    const even = film({
      seconds: times.length,
      perSecond: 1,
      codes: (n) => codesAt(kelvin(times[n]!)),
    })
    let n = 0
    for await (const { frame } of even) yield { frame, seconds: times[n++]! }
  }
  let kept: ReturnType<typeof look> | undefined
  const once = (input: Parameters<typeof look>[0]) => (kept ??= look(input))
  const { ms, lnRed } = await readFrames(uneven(), READING, once)
  // Five a second, each at its middle.
  expect(ms).toEqual([100, 300, 500, 700, 900, 2100, 2300, 2500])
  // It fades with the time that has passed, not with the count of frames.
  const fall = (from: number, to: number) => lnRed[from]! - lnRed[to]!
  const rate = fall(0, 4) / 0.75
  expect(Math.abs(fall(4, 7) / 1.7 / rate - 1)).toBeLessThan(0.1)
})

test('noise from frame to frame asks for no estimates, a change of the heat does', async () => {
  const random = seeded(5)
  const looks = async (kelvin: (t: number) => number) => {
    let count = 0
    let kept: ReturnType<typeof look> | undefined
    const codes = (t: number) => {
      const [r, g, b] = codesAt(kelvin(t))
      return [r, g * (1 + 0.03 * random.normal()), b] as const
    }
    await readFrames(film({ seconds: 4, perSecond: 15, codes }), READING, (input) => {
      count++
      // Only how often it is asked counts here: one answer serves for all.
      kept ??= look(input)
      return kept
    })
    return count
  }
  // At the begin and every two seconds; 36 K are three times what asks for one.
  expect(await looks(() => 1150)).toBe(2)
  expect(await looks((t) => (t < 2.5 ? 1150 : 1186))).toBeGreaterThan(2)
})

test('every frame is closed', async () => {
  const open: (() => boolean)[] = []
  async function* watched() {
    for await (const timed of film({ seconds: 2, perSecond: 10, codes: () => codesAt(1200) })) {
      open.push(timed.closed)
      yield timed
    }
  }
  await readFrames(watched(), READING, look)
  expect(open.length).toBe(20)
  expect(open.every((closed) => closed())).toBe(true)
})
