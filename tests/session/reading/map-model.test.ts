import { beforeEach, describe, expect, test } from 'vitest'
import { NO_DRAFT } from '../../../src/session/draft.ts'
import { compareMaps, type MappedReading } from '../../../src/session/log/compare-maps.ts'
import { createMapModel } from '../../../src/session/reading/map-model.ts'
import { mappedInHand } from '../../../src/session/reading/mapped-in-hand.ts'
import { createReadingModel } from '../../../src/session/reading/reading-model.ts'
import { emptyKit } from '../kit/items.ts'
import { BAR, madePhoto, openWorkers, PHONE, stubMadePhotos } from '../made-photos.ts'

beforeEach(stubMadePhotos)

/** Few cells are mapped sooner. */
const MIDDLE = { ...BAR, x: BAR.x + 10, width: 32, height: 20, y: BAR.y + 5 }
const TAKEN = { iso: '2026-05-04T10:00:00.000+02:00', zone: 'Europe/Vienna' }

/** The map of a photo, and the reading with it as the log would keep them. */
async function mapped(temperatureK: number, object = 'bar') {
  const reading = createReadingModel(emptyKit(), NO_DRAFT)
  const map = createMapModel(reading)
  expect(map.state.value.kind).toBe('waiting')
  await reading.open(madePhoto({ temperatureK, facts: PHONE }), 'glow.jpg', temperatureK)
  reading.glow.setRegion(MIDDLE)
  reading.object.value = object
  await expect.poll(() => map.state.value.kind).toBe('made')
  const made = map.state.value
  if (made.kind !== 'made') throw new Error(made.kind)
  const end = () => {
    map.dispose()
    reading.dispose()
  }
  return { reading, map, made, inHand: mappedInHand(reading, made, TAKEN)!, end }
}

describe('the map of the open photo', () => {
  test('is of the glow, about the reading’s own figure, is saved with that very reading, and goes with it', async () => {
    const { reading, map, made, inHand, end } = await mapped(1200)
    const estimate = reading.estimate.value
    if (estimate?.kind !== 'temperature') throw new Error(estimate?.kind)
    expect(reading.map.value?.estimate).toBe(estimate)
    expect(await reading.map.value?.made).toMatchObject({ map: { columns: made.map.columns } })
    // Of a photo that the person took: neither simulated nor of the made-up workshop.
    expect(inHand).toMatchObject({ simulated: reading.simulatedTruthK.value !== null, demo: false })
    const read = [...made.map.temperatureK].filter(Number.isFinite)
    expect(read.length).toBeGreaterThan(20)
    const mean = read.reduce((sum, kelvin) => sum + kelvin, 0) / read.length
    // As much as the step in which a map is kept, a twentieth of a kelvin.
    expect(Math.abs(mean - estimate.temperatureK)).toBeLessThan(0.05)
    expect(inHand).toMatchObject({
      object: 'bar',
      simulated: true,
      takenAt: TAKEN,
      result: { temperatureK: estimate.temperatureK },
      details: { photo: { width: 160, height: 120 } },
    })
    await subtracts(inHand)
    // Another place: the map is no longer that of what is read.
    reading.glow.setRegion({ ...MIDDLE, width: 20 })
    await expect.poll(() => reading.measurement.value?.region.width).toBe(20)
    expect(reading.map.value?.estimate).not.toBe(estimate)
    expect(reading.map.value?.estimate).toBe(reading.estimate.value)
    await reading.clear()
    expect(map.state.value.kind).toBe('waiting')
    expect(reading.map.value).toBeNull()
    expect(mappedInHand(reading, made, TAKEN)).toBeNull()
    end()
    await expect.poll(openWorkers).toBe(0)
  })

  test('that cannot be made is told', async () => {
    const reading = createReadingModel(emptyKit(), NO_DRAFT)
    const dead = new Error('The worker failed.')
    const map = createMapModel(reading, () => ({
      make: () => Promise.reject(dead),
      change: () => Promise.reject(dead),
      scale: () => Promise.reject(dead),
      close: () => undefined,
    }))
    await reading.open(madePhoto({ temperatureK: 1200 }), 'glow.jpg')
    await expect.poll(() => map.state.value).toEqual({ kind: 'failed', error: dead })
    // A reading that is saved meanwhile is saved without it.
    expect(await reading.map.value?.made).toBeNull()
    map.dispose()
    reading.dispose()
  })
})

/** Two maps of one view: here of one and the same picture. */
async function subtracts(inHand: MappedReading) {
  const compared = (change: object, signal = new AbortController().signal) =>
    compareMaps(inHand, { ...inHand, ...change }, signal)
  const changed = await compared({})
  if (changed.kind !== 'change') throw new Error(changed.kind)
  // One picture less itself: half of the cells lie above no change and half below.
  expect(changed.middleK).toBeCloseTo(0, 3)
  const details = inHand.details as object
  for (const photo of [{ width: 320, height: 120 }, { width: 160, height: 240 }, null])
    expect(await compared({ details: { ...details, photo } })).toEqual({ kind: 'other size' })
  expect(await compared({ details: {} })).toEqual({ kind: 'unreadable' })
  const none = { kind: 'none', reason: 'dark', methodVersion: '1' }
  expect(await compared({ inputs: null, result: none })).toEqual({ kind: 'no figure' })
  // Where nobody waits for it any more no work begins.
  const gone = new AbortController()
  gone.abort()
  await expect(compared({}, gone.signal)).rejects.toThrow(/abort/i)
}
