import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { GreyMeasurement } from '../../../src/light/grey-reference.ts'
import type { LightImage, Region } from '../../../src/light/image.ts'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import { firstValueUnless } from '../../../src/session/first-value.ts'
import { createGreyModel } from '../../../src/session/reading/grey-model.ts'
import { createMeasuring } from '../../../src/session/reading/measuring.ts'
import {
  createPhotoSlot,
  type PhotoSlot,
  saysFailure,
} from '../../../src/session/reading/photo-slot.ts'
import { createStrayModel } from '../../../src/session/reading/stray-model.ts'
import { createSweepModel } from '../../../src/session/reading/sweep-model.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import type { Sweep } from '../../../src/sources/sweep/open-sweep.ts'

const HERE: Region = { shape: 'rectangle', x: 2, y: 2, width: 8, height: 8 }
const THERE: Region = { ...HERE, x: 12 }
const DEAD = new Error('The worker failed.')
const SUPERSEDED = new DOMException('A later call took its place.', 'AbortError')

/** An open photo whose worker answers with `answer`, or fails as long as it is an error. */
async function slotOf(answers: { now: unknown }): Promise<PhotoSlot> {
  const ask = async () => {
    if (answers.now instanceof Error || answers.now instanceof DOMException) throw answers.now
    return answers.now
  }
  const slot = createPhotoSlot()
  await slot.openBy(
    'made up',
    async () =>
      ({
        width: 40,
        height: 40,
        channels: 'display-p3',
        facts: {},
        proposal: HERE,
        measure: ask,
        measureGrey: ask,
        readLight: ask,
        marks: async () => null,
        close: () => undefined,
      }) as unknown as Photo,
  )
  return slot
}
const settled = () => new Promise((resolve) => setImmediate(resolve))

describe('a photo whose worker has died', () => {
  test('is told although the person has named its camera meanwhile', async () => {
    const slot = await slotOf({ now: null })
    const before = slot.photo.peek()!
    slot.setFacts({ ...before.facts, model: 'A camera' })
    expect(saysFailure(slot, before, DEAD)).toBe(true)
    expect(slot.refusal.value?.error).toBe(DEAD)
    slot.close()
    expect(saysFailure(slot, before, DEAD)).toBe(false)
  })

  test('gives no figure of another region, says so, and a wait for it ends', async () => {
    const answers: { now: unknown } = { now: {} as PhotoMeasurement }
    const slot = await slotOf(answers)
    const measuring = createMeasuring(slot, signal(null))
    await settled()
    expect(measuring.measurement.value).not.toBeNull()
    answers.now = DEAD
    slot.setRegion(THERE)
    await settled()
    expect(measuring.measurement.value).toBeNull()
    expect(measuring.failed.value).toBe(true)
    expect(slot.refusal.value?.error).toBe(DEAD)
    expect(await firstValueUnless(measuring.measurement, measuring.failed)).toBeNull()
    answers.now = {}
    slot.setRegion(HERE)
    expect(measuring.failed.value).toBe(false)
    expect(await firstValueUnless(measuring.measurement, measuring.failed)).not.toBeNull()
    measuring.dispose()
  })

  test('gives no balance of another place of its card', async () => {
    const answers: { now: unknown } = { now: { refused: true } as GreyMeasurement }
    const slot = await slotOf(answers)
    const grey = createGreyModel(slot)
    grey.startCardHere(HERE, true)
    await settled()
    expect(grey.card.value).not.toBeNull()
    answers.now = DEAD
    grey.setCardRegion(THERE)
    await settled()
    expect(grey.card.value).toBeNull()
    expect(slot.refusal.value?.error).toBe(DEAD)
    grey.disposeGrey()
  })

  test('takes off no light that was measured for another region', async () => {
    const light = (level: number): LightImage => ({
      width: 40,
      height: 40,
      channels: 'display-p3',
      rgb: new Float32Array(3 * 40 * 40).fill(level),
      flags: new Uint8Array(40 * 40),
    })
    const glow = await slotOf({ now: light(0.5) })
    const stray = createStrayModel(glow, signal(null))
    let dead = false
    await stray.slot.openBy(
      'lamp',
      async () =>
        ({
          width: 40,
          height: 40,
          facts: {},
          proposal: HERE,
          readLight: async () => {
            if (dead) throw DEAD
            return light(0.01)
          },
          close: () => undefined,
        }) as unknown as Photo,
    )
    await settled()
    expect(stray.result.value?.kind).toBe('measured')
    dead = true
    glow.setRegion(THERE)
    await settled()
    expect(stray.result.value).toBeNull()
    expect(stray.slot.refusal.value?.error).toBe(DEAD)
    stray.dispose()
  })

  test('a later question that takes the place of an earlier one is no failure', async () => {
    const answers: { now: unknown } = { now: {} }
    const slot = await slotOf(answers)
    const measuring = createMeasuring(slot, signal(null))
    await settled()
    answers.now = SUPERSEDED
    slot.setRegion(THERE)
    await settled()
    expect(measuring.measurement.value).not.toBeNull()
    expect(measuring.failed.value).toBe(false)
    expect(slot.refusal.value).toBeNull()
    measuring.dispose()
  })

  test('says nothing once it is put away', async () => {
    const answers: { now: unknown } = { now: DEAD }
    const slot = await slotOf(answers)
    const measuring = createMeasuring(slot, signal(null))
    slot.close()
    await settled()
    expect(slot.refusal.value).toBeNull()
    expect(measuring.failed.value).toBe(false)
    measuring.dispose()
  })
})

describe('a sweep whose photos can no longer be read', () => {
  const sweepOf = (error: unknown) =>
    ({
      photos: [
        { name: 'one', exposure: 1 },
        { name: 'two', exposure: 0.5 },
      ],
      base: { facts: {} },
      measure: () => Promise.reject(error),
      close: () => undefined,
    }) as unknown as Sweep

  test('says so and works on nothing any more', async () => {
    const said: unknown[] = []
    const says = (error: unknown) => {
      said.push(error)
      return error === DEAD
    }
    const model = createSweepModel(sweepOf(DEAD), signal(HERE), null, null, signal(null), says)
    expect(model.stops.value).toEqual([0, -1])
    expect(model.progress.value).toBe(0)
    await settled()
    expect(said).toEqual([DEAD])
    expect(model.failed.value).toBe(true)
    expect(model.progress.value).toBeNull()
    expect(await firstValueUnless(model.result, model.failed)).toBeNull()
    model.dispose()
    const moved = createSweepModel(
      sweepOf(SUPERSEDED),
      signal(HERE),
      null,
      null,
      signal(null),
      says,
    )
    await settled()
    expect(moved.failed.value).toBe(false)
    moved.dispose()
  })
})
