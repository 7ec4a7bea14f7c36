import { describe, expect, test } from 'vitest'
import { NOTES } from '../../../src/session/draft.ts'
import { openRecord, recordToSave } from '../../../src/session/reading/open-record.ts'
import { rememberOpen } from '../../../src/session/reading/put-away.ts'
import { BAR, madePhoto, madeSweep, openWorkers, PHONE } from '../made-photos.ts'
import { begun, measured, readsMadePhotos, TAKEN, underTest } from './made-reading.ts'

readsMadePhotos()

describe('an open photo', () => {
  test('is read where its glow lies, and becomes a record', async () => {
    const model = begun()
    expect(recordToSave(model, { takenAt: TAKEN })).toBeNull()
    expect(openRecord(model, new Date(TAKEN.iso))).toBeNull()
    await model.open(madePhoto({ temperatureK: 1200, facts: PHONE }), 'glow.jpg')
    const region = model.glow.region.value!
    expect(region.x).toBeGreaterThanOrEqual(BAR.x)
    expect(region.x + region.width).toBeLessThanOrEqual(BAR.x + BAR.width)
    await measured(model)
    // Without a surface and a card the interval is wide, and holds the truth.
    const estimate = model.estimate.value
    if (estimate?.kind !== 'temperature') throw new Error(estimate?.kind)
    expect(estimate.interval95K[0]).toBeLessThan(1200)
    expect(estimate.interval95K[1]).toBeGreaterThan(1200)
    expect(model.input.value).toMatchObject({
      cameraId: 'Made-up · phone · wide',
      linearity: { kind: 'single' },
      balance: null,
    })
    model.object.value = ' kiln shelf '
    const record = recordToSave(model, { takenAt: TAKEN, notes: ' second firing ' })
    expect(record).toMatchObject({
      method: 'photo',
      simulated: false,
      object: 'kiln shelf',
      notes: 'second firing',
      takenAt: TAKEN,
      result: { kind: 'temperature', temperatureK: estimate.temperatureK },
      details: { photo: { width: 160, height: 120 }, simulatedTruthK: null },
    })
    // Squares of the stored budget add up to what the figure states.
    const { result } = record as { result: { budget: { contributionK: number }[] } }
    const sum = result.budget.reduce((all, { contributionK: c }) => all + c * c, 0)
    expect(Math.sqrt(sum)).toBeCloseTo(estimate.standardUncertaintyK, 3)
    expect(openRecord(model, new Date(TAKEN.iso))).toMatchObject({
      id: 'open',
      object: 'kiln shelf',
      savedAt: '2026-05-04T08:00:00.000Z',
    })
    model.dispose()
    expect(openWorkers()).toBe(0)
  })

  test.each([
    ['dark', { temperatureK: 1200, stops: -9 }],
    ['clipped', { temperatureK: 1200, stops: 3 }],
  ] as const)('has no figure where it is %s, and is recorded so', async (reason, scene) => {
    const model = begun()
    await model.open(madePhoto(scene), 'glow.jpg')
    model.glow.setRegion(BAR)
    await expect.poll(() => model.estimate.value).toMatchObject({ kind: 'no number', reason })
    expect(model.input.value).toBeNull()
    expect(model.extremesK.value).toBeNull()
    expect(recordToSave(model, { takenAt: TAKEN })?.result).toMatchObject({ kind: 'none', reason })
    model.dispose()
  })

  test('of a simulated glow is recorded as practice, with the surface that it has', async () => {
    const model = begun()
    await model.open(madePhoto({ temperatureK: 1200 }), 'simulated', 1200)
    await measured(model)
    expect(model.choices.value.materialId).toBe('steel-oxidised')
    expect(model.input.value).toMatchObject({ faithfulColours: true })
    expect(recordToSave(model, { takenAt: TAKEN })).toMatchObject({
      method: 'practice',
      simulated: true,
      material: 'steel-oxidised',
      details: { simulatedTruthK: 1200 },
    })
    model.dispose()
  })

  test('whose file states an automatic balance counts as such, whatever was said before', async () => {
    const model = begun()
    const daylight = { kind: 'daylight', colourTemperatureK: null } as const
    model.choices.value = { ...model.choices.value, balanceState: daylight }
    await model.open(madePhoto({ facts: PHONE }), 'stated by the person')
    expect(model.choices.value.balanceState).toEqual(daylight)
    await model.open(madePhoto({ facts: { ...PHONE, whiteBalance: 'automatic' } }), 'stated')
    expect(model.choices.value.balanceState.kind).toBe('automatic')
    model.dispose()
  })

  test('takes a name for its camera only where the file has none', async () => {
    const model = begun()
    model.nameCamera('nobody')
    await model.open(madePhoto({}), 'without a name')
    expect(model.device.value).toBe('')
    model.nameCamera('Shop phone')
    expect(model.device.value).toBe('Shop phone')
    // What the person has said can be said again.
    model.nameCamera('Old phone')
    expect(model.device.value).toBe('Old phone')
    await model.open(madePhoto({ facts: PHONE }), 'with a name')
    model.nameCamera('Other phone')
    expect(model.device.value).toBe('Made-up · phone')
    model.dispose()
  })

  test('stays where the next file cannot be read, which is told', async () => {
    const model = begun()
    await model.open(madePhoto({}), 'glow.jpg')
    const first = model.glow.photo.value
    await model.open(new File(['no picture'], 'list.txt'), 'list.txt')
    expect(model.glow.photo.value).toBe(first)
    expect(model.glow.refusal.value).toMatchObject({ name: 'list.txt' })
    expect(model.openFiles().map(({ name }) => name)).toEqual(['glow.jpg'])
    model.dispose()
  })

  test('tells how much hotter one part of it is than another', async () => {
    const model = begun()
    await model.open(madePhoto({ temperatureK: 1200 }), 'even')
    await measured(model)
    const found = model.extremesK.value!
    expect(found.hottest).toBeGreaterThanOrEqual(found.coolest)
    // The bar is of one colour: what is left is noise.
    expect(found.hottest - found.coolest).toBeLessThan(40)
    model.dispose()
  })
})

describe('work that a reload interrupts', () => {
  test('comes back with its region, what was said and the name of its camera', async () => {
    const before = begun()
    await before.open(madePhoto({}), 'glow.jpg')
    before.nameCamera('Shop phone')
    before.object.value = 'kiln shelf'
    before.glow.setRegion(BAR)
    before.choices.value = { ...before.choices.value, materialId: 'cavity', cover: 'glass' }
    await expect
      .poll(() => underTest.find(NOTES))
      .toMatchObject({ object: 'kiln shelf', region: BAR })
    const photo = (await underTest.photo())!
    expect(photo.name).toBe('glow.jpg')
    before.dispose()

    const after = begun()
    await after.resume(photo, await underTest.find(NOTES))
    expect(after.glow.region.value).toEqual(BAR)
    expect(after.choices.value).toMatchObject({ materialId: 'cavity', cover: 'glass' })
    expect(after.object.value).toBe('kiln shelf')
    expect(after.device.value).toBe('Shop phone')
    // It is followed again: what is said now is kept too.
    after.object.value = 'lid'
    await expect.poll(() => underTest.find(NOTES)).toMatchObject({ object: 'lid' })
    after.dispose()
  })

  test('is read anew where its notes cannot be understood', async () => {
    const model = begun()
    const photo = { blob: madePhoto({}), name: 'glow.jpg', truthK: null }
    for (const notes of [undefined, null, 'text', {}, { choices: { materialId: 'cavity' } }]) {
      await model.resume(photo, notes)
      expect(model.choices.value.materialId).toBe('')
      expect(model.glow.photo.value).not.toBeNull()
    }
    model.dispose()
  })

  test('is gone, with what was said of it, once it is put away', async () => {
    const model = begun()
    await model.open(madePhoto({}), 'glow.jpg')
    model.object.value = 'kiln shelf'
    model.choices.value = { ...model.choices.value, materialId: 'cavity' }
    model.startCardHere(BAR, true)
    await model.clear()
    expect(model.glow.photo.value).toBeNull()
    expect(model.choices.value.materialId).toBe('')
    expect(model.object.value).toBe('')
    expect(model.greySource.value.kind).toBe('none')
    expect(model.estimate.value?.kind).toBeUndefined()
    expect(await underTest.photo()).toBeUndefined()
    expect(await rememberOpen(model, underTest)).toBeNull()
    model.dispose()
  })

  test('comes back after Undo, a photo with its notes and a sweep as a sweep', async () => {
    const model = begun()
    await model.open(madePhoto({}), 'glow.jpg')
    model.object.value = 'kiln shelf'
    await expect.poll(() => underTest.find(NOTES)).toMatchObject({ object: 'kiln shelf' })
    const bringBack = await rememberOpen(model, underTest)
    await model.clear()
    await bringBack!(model)
    expect(model.object.value).toBe('kiln shelf')
    expect(model.sweep.value).toBeNull()
    expect((await underTest.photo())?.name).toBe('glow.jpg')

    await model.openSweep(madeSweep({}, [0, -1, -2]))
    model.object.value = 'lid'
    await expect.poll(() => underTest.find(NOTES)).toMatchObject({ object: 'lid' })
    const bringSweepBack = await rememberOpen(model, underTest)
    await model.clear()
    expect(model.sweep.value).toBeNull()
    await bringSweepBack!(model)
    expect(model.sweep.value?.stops.value).toHaveLength(3)
    expect(model.object.value).toBe('lid')
    model.dispose()
    expect(openWorkers()).toBe(0)
  })
})
