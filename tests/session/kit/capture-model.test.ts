import * as v from 'valibot'
import { beforeEach, describe, expect, test, vi } from 'vitest'
import { draftOf, NO_DRAFT, NOTES } from '../../../src/session/draft.ts'
import {
  captureOf,
  captureShape,
  discardCapture,
  openCapture,
  putCaptureAway,
  resumeCapture,
} from '../../../src/session/kit/capture-draft.ts'
import { type CaptureModel, createCaptureModel } from '../../../src/session/kit/capture-model.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import type { Subject } from '../../../src/session/kit/subject.ts'
import { madePhoto, openWorkers, PHONE, stubMadePhotos } from '../made-photos.ts'
import { memoryCaches } from '../memory-caches.ts'
import { emptyKit, kitItem } from './items.ts'

beforeEach(() => {
  stubMadePhotos()
  vi.stubGlobal('navigator', {})
  vi.stubGlobal('caches', memoryCaches())
})

const SALT: Subject = { kind: 'known heat', choice: { id: 'sodium-chloride' } }
const COPPER: Subject = { kind: 'known heat', choice: { id: 'copper', atmosphere: 'covered' } }
const THERMOCOUPLE: Subject = {
  kind: 'known heat',
  choice: { id: 'thermocouple', valueK: 1193, limitsOfErrorK: 7 },
}
const DAYLIGHT = { kind: 'daylight', colourTemperatureK: null } as const
const NOW = new Date('2026-05-04T10:00:00Z')
const SALT_PHOTO = madePhoto({
  temperatureK: 1073.55,
  facts: { ...PHONE, takenAt: '2026-05-04T10:00:00Z' },
})

/** A capture with an open photo, of which all has been said. */
async function told(subject: Subject, kit = emptyKit(), photo = SALT_PHOTO): Promise<CaptureModel> {
  const capture = createCaptureModel(kit, subject, NO_DRAFT)
  await capture.reading.open(photo, photo.name)
  const { choices } = capture.reading
  choices.value = { ...choices.value, materialId: 'cavity', balanceState: DAYLIGHT }
  await expect.poll(() => capture.obstacle.value).toBeNull()
  return capture
}

describe('a known heat that is photographed', () => {
  test('cannot be kept before all is said, and one thing is asked after the other', async () => {
    const capture = createCaptureModel(
      emptyKit(),
      { kind: 'known heat', choice: { id: 'thermocouple' } },
      NO_DRAFT,
    )
    expect(capture.obstacle.value).toBe('no photo')
    await capture.reading.open(SALT_PHOTO, 'salt')
    expect(capture.obstacle.value).toBe('no temperature')
    capture.subject.value = SALT
    await expect.poll(() => capture.obstacle.value).toBe('white balance not fixed')
    expect(capture.candidate.value).toBeNull()
    const { choices } = capture.reading
    choices.value = { ...choices.value, balanceState: { ...DAYLIGHT, kind: 'automatic' } }
    expect(capture.obstacle.value).toBe('white balance not fixed')
    choices.value = { ...choices.value, balanceState: DAYLIGHT }
    expect(capture.obstacle.value).toBe('no surface')
    // What it would be worth can be told all the same.
    expect(capture.candidate.value).not.toBeNull()
    choices.value = { ...choices.value, materialId: 'cavity' }
    expect(capture.obstacle.value).toBeNull()
    expect(capture.item('Salt', NOW)).not.toBeNull()
    await capture.reading.clear()
    expect(capture.obstacle.value).toBe('no photo')
    expect(capture.item('Salt', NOW)).toBeNull()
    capture.dispose()
    expect(openWorkers()).toBe(0)
  })

  test('is kept as what the kit reads back: its temperature, its camera, its light', async () => {
    const capture = await told(SALT)
    const item = capture.item('Salt', NOW)!
    expect(item).toMatchObject({
      kind: 'known heat',
      name: 'Salt',
      date: { iso: '2026-05-04T10:00:00Z' },
      cameraId: 'Made-up · phone · wide',
      balanceState: 'daylight',
      simulated: false,
    })
    // Roberts 1924 (Phys. Rev. 23, 386): sodium chloride melts at 800.4 °C.
    expect(item.temperatureK).toBeCloseTo(1073.55, 2)
    const { heats, unreadable } = sortKit([kitItem({ ...item, id: 'kept' } as never)])
    expect(unreadable).toEqual([])
    expect(heats[0]).toMatchObject({
      off: false,
      origin: { kind: 'known heat', id: 'sodium-chloride' },
      reference: {
        id: 'kept',
        temperatureK: item.temperatureK,
        surface: { id: 'cavity' },
        glow: capture.candidate.value?.glow,
      },
    })
    capture.dispose()
  })

  test('tells what it makes of readings of this camera, and of what the kit held against it', async () => {
    const kit = emptyKit()
    const capture = await told(SALT, kit)
    expect(capture.working.value).toBe(true)
    await expect.poll(() => capture.benefit.value).not.toBeNull()
    expect(capture.working.value).toBe(false)
    const { before, after, use } = capture.benefit.value!
    expect(after!.standardUncertaintyK).toBeLessThan(0.8 * before!.standardUncertaintyK)
    expect(use?.id).toBe(capture.candidate.value?.id)
    // Without a candidate nothing is told of its worth.
    capture.subject.value = { kind: 'known heat', choice: { id: 'thermocouple' } }
    expect(capture.benefit.value).toBeNull()
    expect(capture.working.value).toBe(false)
    capture.dispose()
  })
})

describe('photos of one melt', () => {
  const copper = (seconds: number) => ({
    id: 'first',
    origin: { kind: 'known heat', id: 'copper' },
    reference: {
      cameraId: 'Made-up · phone · wide',
      takenAt: new Date(Date.parse('2026-05-04T10:00:00Z') - 1000 * seconds).toISOString(),
      group: 'melt of the first',
    },
  })
  const groupOf = async (subject: Subject, ...heats: unknown[]) => {
    const kit = emptyKit()
    ;(kit.heats as { value: unknown }).value = heats
    const capture = await told(subject, kit)
    const data = capture.item('One', NOW)?.data as { reference: { group: string | null } }
    capture.dispose()
    return data.reference.group
  }

  test('share its error for twenty minutes, before and after', async () => {
    expect(await groupOf(COPPER, copper(19.5 * 60))).toBe('melt of the first')
    expect(await groupOf(COPPER, copper(-19.5 * 60))).toBe('melt of the first')
    expect(await groupOf(COPPER, copper(20.5 * 60))).toMatch(/^melt (?!of the first)/)
    expect(await groupOf(COPPER, copper(-20.5 * 60))).toMatch(/^melt (?!of the first)/)
  })

  test('are of one camera and of one thing', async () => {
    const { reference, ...of } = copper(60)
    const elsewhere = { ...of, reference: { ...reference, cameraId: 'Other' } }
    const silver = { ...of, reference, origin: { kind: 'known heat', id: 'silver' } }
    expect(await groupOf(COPPER, elsewhere, silver)).toMatch(/^melt (?!of the first)/)
  })

  test('are no melt where a meter tells the temperature: what it errs by is its own', async () => {
    expect(await groupOf(THERMOCOUPLE, copper(60))).toBe('thermocouple')
  })
})

test('a lamp is known by its colour: no surface is asked, and no level is compared', async () => {
  const model = createLampModel(null)
  model.change({ name: 'Bench lamp' })
  const exposed = madePhoto({
    temperatureK: 2000,
    facts: { ...PHONE, exposureSeconds: 0.01, iso: 100, fNumber: 2 },
  })
  const capture = createCaptureModel(emptyKit(), model.subject()!, NO_DRAFT)
  await capture.reading.open(exposed, 'lamp')
  const { choices } = capture.reading
  choices.value = { ...choices.value, balanceState: DAYLIGHT }
  await expect.poll(() => capture.obstacle.value).toBeNull()
  expect(capture.reading.input.value).toHaveProperty('level')
  expect(capture.candidate.value).not.toHaveProperty('level')
  expect(capture.candidate.value?.surface.lnGreenOverRed).toBe(0)
  capture.dispose()
  const melt = await told(SALT, emptyKit(), exposed)
  expect(melt.candidate.value).toHaveProperty('level')
  melt.dispose()
})

describe('a capture that is interrupted', () => {
  const draft = draftOf('kit-in-hand')
  const interrupted = async (subject: unknown) => {
    await draft.storePhoto({ blob: SALT_PHOTO, name: 'salt.jpg', truthK: null })
    await draft.store(NOTES, { subject })
    await resumeCapture(emptyKit())
  }

  test('by a look elsewhere stays open; another subject takes over its photo', async () => {
    const kit = emptyKit()
    const capture = captureOf(kit, SALT)
    expect(captureOf(kit, COPPER)).toBe(capture)
    expect(capture.subject.value).toBe(COPPER)
    discardCapture()
    expect(openCapture.value).toBeNull()
    expect(captureOf(kit, SALT)).not.toBe(capture)
    discardCapture()
  })

  test('by a reload comes back with its photo, and what it shows', async () => {
    await interrupted(THERMOCOUPLE)
    expect(openCapture.value?.subject.value).toEqual(THERMOCOUPLE)
    expect(openCapture.value?.reading.glow.photo.value).not.toBeNull()
    // What is open is not opened once more.
    const open = openCapture.value
    await resumeCapture(emptyKit())
    expect(openCapture.value).toBe(open)
    discardCapture()
  })

  test('by a reload in its own step comes back there, and not in the step of another heat', async () => {
    captureOf(emptyKit(), COPPER)
    await interrupted(SALT)
    expect(openCapture.value?.reading.glow.photo.value).toBeNull()
    discardCapture()
    const begun = captureOf(emptyKit(), SALT)
    await interrupted(SALT)
    expect(openCapture.value).toBe(begun)
    expect(begun.reading.glow.photo.value).not.toBeNull()
    discardCapture()
  })

  test.each([
    ['nothing that is known', undefined],
    ['a lamp, whose meters would have moved on', { kind: 'lamp', target: 'frosted-bulb' }],
    ['a melt that there is not', { kind: 'known heat', choice: { id: 'cheese' } }],
  ])('by a reload is put away where it shows %s', async (_, subject) => {
    await interrupted(subject)
    expect(openCapture.value).toBeNull()
    await expect.poll(() => draft.photo()).toBeUndefined()
  })

  test('put away while another one was begun leaves that one', async () => {
    const kit = emptyKit()
    await captureOf(kit, SALT).reading.open(SALT_PHOTO, 'salt.jpg')
    const away = putCaptureAway(kit, { keep: false })
    discardCapture()
    const other = captureOf(kit, COPPER)
    expect(await away).toBeNull()
    expect(openCapture.value).toBe(other)
    discardCapture()
  })

  test('comes back with all that is said of its melt, as far as there is such', () => {
    const takes = (change: object) =>
      v.is(captureShape, { subject: { ...COPPER, choice: { id: 'copper', ...change } } })
    for (const atmosphere of ['covered', 'open-air']) expect(takes({ atmosphere })).toBe(true)
    for (const steelClass of ['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'])
      expect(takes({ steelClass }), steelClass).toBe(true)
    expect(takes({ atmosphere: 'vacuum' })).toBe(false)
    expect(takes({ steelClass: 'stainless' })).toBe(false)
  })

  test('by mistake comes back after Undo', async () => {
    const kit = emptyKit()
    expect(await putCaptureAway(kit, { keep: false })).toBeNull()
    await captureOf(kit, SALT).reading.open(SALT_PHOTO, 'salt.jpg')
    for (const keep of [false, true]) {
      const bringBack = await putCaptureAway(kit, { keep })
      expect(openCapture.value === null).toBe(!keep)
      expect(openCapture.value?.reading.glow.photo.value ?? null).toBeNull()
      bringBack!()
      expect(openCapture.value?.subject.value).toEqual(SALT)
      await expect.poll(() => openCapture.value?.reading.glow.photo.value).not.toBeNull()
    }
    discardCapture()
  })
})
