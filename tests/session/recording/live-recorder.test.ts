import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { FLAGS } from '../../../src/log/recordings/columns.ts'
import { LONGEST_SECONDS } from '../../../src/session/recording/live-recorder.ts'
import { recorder } from './made-up-live.ts'

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
})
afterEach(() => {
  vi.useRealTimers()
})

describe('a recording of a live glow', () => {
  test('begins with what is known of it', async () => {
    const { begun, made } = await recorder()
    expect(begun()).toMatchObject({
      source: 'live',
      simulated: false,
      cameraId: 'made-up stream',
      object: 'bar',
      material: 'steel-oxidised',
      cover: 'none',
      notes: '',
    })
    await made.stop()
    const practice = await recorder({ kind: 'practice' })
    expect(practice.begun()).toMatchObject({ simulated: true, notes: /imulated/ })
    await practice.made.stop()
  })

  test('writes what the frames show, once a second', async () => {
    const { made, model, see, pass, written, all } = await recorder()
    made.attach(model)
    await pass(9, see)
    expect(written).toHaveLength(0)
    await pass(1, see)
    expect(written).toHaveLength(1)
    expect(all('ms')).toEqual([100, 200, 300, 400, 500, 600, 700, 800, 900, 1000])
    for (const kelvin of all('temperatureK')) expect(kelvin).toBeCloseTo(1200, 3)
    expect(all('flags').every((flags) => flags === 0)).toBe(true)
    expect(made.count.value).toBe(10)
    expect(made.seconds.value).toBe(1)
    await made.stop()
  })

  test('follows the colour by the line of the latest estimate', async () => {
    const { made, model, see, pass, all } = await recorder()
    made.attach(model)
    await pass(1, see)
    // 350 K for 1 in ln(G/R).
    await pass(9, () => see({ plain: -2.4 }))
    expect(all('temperatureK')[9]).toBeGreaterThan(1225)
    expect(all('temperatureK')[9]).toBeLessThan(1245)
    await made.stop()
  })

  test('has a gap with its reason where there is no figure', async () => {
    const of = async (trouble: string) => {
      const { made, model, see, pass, all } = await recorder()
      made.attach(model)
      await pass(10, () => see({ trouble } as never))
      await made.stop()
      expect(all('temperatureK').every(Number.isNaN)).toBe(true)
      return all('flags')[0]
    }
    expect(await of('clipped')).toBe(FLAGS.clipped)
    expect(await of('no glow')).toBe(FLAGS.lost)
    expect(await of('too small')).toBe(FLAGS.lost)
    expect(await of('too dark')).toBe(FLAGS['below range'])
    expect(await of('below range')).toBe(FLAGS['below range'])
  })

  test('has no gap where frames only come more slowly than readings', async () => {
    const { made, model, see, pass } = await recorder()
    made.attach(model)
    await pass(1, see)
    await pass(3)
    await pass(1, see)
    expect(made.count.value).toBe(2)
    await made.stop()
  })

  test('goes on without the camera, as a pause, and with it again', async () => {
    const { made, model, see, pass, all } = await recorder()
    const off = made.attach(model)
    await pass(5, see)
    off()
    await pass(5)
    made.attach(model)
    await pass(10, see)
    await made.stop()
    expect(all('flags').slice(0, 12)).toEqual([
      ...new Array(5).fill(0),
      ...new Array(5).fill(FLAGS.paused),
      0,
      0,
    ])
  })

  test('says of each reading whether the balance drifted or the light flickered', async () => {
    const { made, model, locks, rolling, see, pass, all } = await recorder()
    made.attach(model)
    locks.value = { exposure: 'locked', whiteBalance: 'drifts' }
    await pass(1, see)
    rolling.value = { motion: 'flicker' }
    await pass(1, see)
    locks.value = { exposure: 'locked', whiteBalance: 'locked' }
    await pass(1, see)
    rolling.value = { motion: 'still' }
    await pass(1, see)
    await made.stop()
    expect(all('flags')).toEqual([
      FLAGS['balance drifts'],
      FLAGS['balance drifts'] + FLAGS.flicker,
      FLAGS.flicker,
      0,
    ])
  })

  test('a timer that comes twice at once writes one reading', async () => {
    const { made, model, see, pass, later } = await recorder()
    made.attach(model)
    await pass(1, see)
    see()
    later(-100)
    await pass(1)
    expect(made.count.value).toBe(1)
    await made.stop()
  })
})

describe('its end', () => {
  test('by hand puts what waits and the details on disk, once', async () => {
    const { made, model, see, pass, written, calls } = await recorder()
    made.attach(model)
    await pass(4, see)
    expect(written).toHaveLength(0)
    const [head, again] = await Promise.all([made.stop(), made.stop()])
    expect(head).toEqual({ how: 'by hand' })
    expect(again).toBe(head)
    expect(calls).toEqual(['append', 'keepDetails', 'end', 'keepDetails'])
    expect(written[0]!.ms).toHaveLength(4)
    await pass(3, see)
    expect(made.count.value).toBe(4)
  })

  test('comes by itself after two hours', async () => {
    const { made, model, see, pass, later } = await recorder()
    made.attach(model)
    later(LONGEST_SECONDS * 1000 - 200)
    await pass(1, see)
    expect(made.ended.value).toBeNull()
    await pass(1, see)
    await expect.poll(() => made.ended.value).toEqual({ how: 'by limit' })
  })

  test('comes when the disk refuses, and says so', async () => {
    const { made, model, see, pass } = await recorder({ refuse: 'append' })
    made.attach(model)
    await pass(10, see)
    await expect.poll(() => made.failure.value).toEqual(new Error('no append'))
    await expect.poll(() => made.ended.value).toEqual({ how: 'by limit' })
    await pass(5, see)
    expect(made.count.value).toBe(10)
  })

  test('that cannot be written is a failure and no end', async () => {
    const { made } = await recorder({ refuse: 'end' })
    expect(await made.stop()).toBeNull()
    expect(made.failure.value).toEqual(new Error('no end'))
    expect(made.ended.value).toBeNull()
  })
})

describe('beside the readings', () => {
  test('what they rest on is kept every ten seconds while it changes', async () => {
    const { made, model, see, pass, details } = await recorder()
    made.attach(model)
    await pass(90, see)
    expect(details()).toBe(0)
    await pass(11, see)
    expect(details()).toBe(1)
    await pass(110, see)
    // No new estimate: nothing new to keep.
    expect(details()).toBe(1)
    await made.stop()
  })

  test('marks lie at their time and are cut to their length', async () => {
    const { made, marks, later } = await recorder()
    later(1500)
    made.mark('a'.repeat(80), 'b'.repeat(500))
    made.mark('quench')
    await expect.poll(() => marks.length).toBe(2)
    expect(made.marks.value).toEqual([
      { seconds: 1.5, name: 'a'.repeat(60), note: 'b'.repeat(400) },
      { seconds: 1.5, name: 'quench', note: '' },
    ])
    expect(marks[1]).toEqual(made.marks.value)
    await made.stop()
  })

  test('the small curve is thinned over the whole, and stays in order', async () => {
    const { made, model, see, pass } = await recorder()
    made.attach(model)
    await pass(1000, see)
    const seconds = made.shown.value.map(([at]) => at)
    expect(seconds.length).toBeLessThanOrEqual(240)
    expect(seconds.length).toBeGreaterThan(100)
    expect(seconds).toEqual(seconds.toSorted((a, b) => a - b))
    expect(seconds[0]).toBeLessThan(1)
    expect(seconds.at(-1)).toBeGreaterThan(99)
    await made.stop()
  })
})

test('a recording ends by itself after two hours', async () => {
  const live = await recorder()
  live.see()
  live.later(2 * 3_600_000 - 300)
  await live.pass(2)
  expect(live.made.ended.value).toBeNull()
  await live.pass(2)
  expect(live.made.ended.value).toMatchObject({ how: 'by limit' })
})
