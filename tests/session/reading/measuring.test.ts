import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../../src/light/image.ts'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import { createMeasuring } from '../../../src/session/reading/measuring.ts'
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

test('a curve that comes later outdates what the former one decoded, until measured again', async () => {
  const { slot, answer } = heldSlot()
  const curve = signal<ToneCurve | null>(null)
  const measuring = createMeasuring(slot, curve)
  expect(measuring.outdated.value).toBe(false)
  await answer()
  const first = measuring.measurement.value
  expect(first).not.toBeNull()
  expect(measuring.outdated.value).toBe(false)

  curve.value = {} as ToneCurve
  expect(measuring.measurement.value).toBe(first)
  expect(measuring.outdated.value).toBe(true)
  await answer()
  expect(measuring.measurement.value).not.toBe(first)
  expect(measuring.outdated.value).toBe(false)

  curve.value = null
  expect(measuring.outdated.value).toBe(true)
  measuring.forget()
  expect(measuring.outdated.value).toBe(false)
  measuring.dispose()
})
