import { type Signal, signal } from '@preact/signals'
import { expect, test } from 'vitest'
import type { Region } from '../../../src/light/image.ts'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import { createMeasuring } from '../../../src/session/reading/measuring.ts'
import type { CurveInUse } from '../../../src/session/reading/photo-meaning.ts'
import type { PhotoSlot } from '../../../src/session/reading/photo-slot.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

/** A slot whose photo answers when told to, each time with a measurement of its own. */
function heldSlot() {
  const answers: (() => void)[] = []
  const photo = {
    measure: () =>
      new Promise<PhotoMeasurement>((resolve) => {
        answers.push(() => resolve({} as PhotoMeasurement))
      }),
  } as unknown as Photo
  const region: Region = { shape: 'rectangle', x: 0, y: 0, width: 8, height: 8 }
  const slot = {
    photo: signal<Photo | null>(photo),
    region: signal<Region | null>(region),
    showMarks: () => undefined,
  } as unknown as PhotoSlot
  const answer = async () => {
    answers.shift()?.()
    await Promise.resolve()
    await Promise.resolve()
  }
  return { slot, answer }
}

const kept = { kept: { id: 'a curve', curve: {} }, movedBy: 0 } as unknown as CurveInUse

test('a measurement keeps the curve that decoded it until it is made again by the next one', async () => {
  const { slot, answer } = heldSlot()
  const curve = signal<CurveInUse | null>(null)
  const measuring = createMeasuring(slot, curve)
  expect(measuring.outdated.value).toBe(false)
  await answer()
  const first = measuring.measurement.value
  expect(first).not.toBeNull()
  expect(measuring.outdated.value).toBe(false)

  curve.value = kept
  expect(measuring.measurement.value).toBe(first)
  expect(measuring.decodedBy.value).toBeNull()
  expect(measuring.outdated.value).toBe(true)
  await answer()
  expect(measuring.measurement.value).not.toBe(first)
  expect(measuring.decodedBy.value).toBe(kept)
  expect(measuring.outdated.value).toBe(false)

  curve.value = null
  expect(measuring.outdated.value).toBe(true)
  // What a person says of the photo leaves its measurement; with the photo it goes.
  const { photo } = slot as unknown as { photo: Signal<Photo | null> }
  photo.value = { ...photo.value!, facts: {} } as Photo
  expect(measuring.measurement.value).not.toBeNull()
  photo.value = null
  expect(measuring.measurement.value).toBeNull()
  expect(measuring.outdated.value).toBe(false)
  measuring.dispose()
})
