import { expect, test } from 'vitest'
import type { SpectrumModel } from '../../../src/session/spectrum/model-types.ts'
import { practiceSpectra } from '../../../src/sources/practice/practice-spectra.ts'
import { memoryDraft } from './direct-bench.ts'
import { practised, started, temperatureOf } from './practised.ts'

/** The practice lamp once more, said to be a black body of this temperature. */
async function another(model: SpectrumModel, kelvin: number) {
  model.putBeside()
  expect(model.imported.roles.value.lamp).toBeNull()
  model.lamp.emitter.value = 'black body'
  model.lamp.black.value = { temperatureK: kelvin, standardUncertaintyK: 10 }
  await model.imported.addTexts([
    { ...practiceSpectra().lamp, step: 'instrument', simulated: { truthK: null } },
  ])
  await expect.poll(() => model.input.value?.others?.length).toBe(1)
  await expect.poll(() => model.busy.value).toBe(false)
}

test('a reference put beside is read with the next one, each by itself and both together', async () => {
  const model = await practised()
  const alone = temperatureOf(model)
  await another(model, 2700)
  const both = temperatureOf(model)
  expect(both.byReference.map(({ reference }) => reference)).toEqual([0, 1])
  expect(both.byReference[1]!.temperatureK).toBeCloseTo(alone.temperatureK, 6)
  expect(both.betweenReferencesK).not.toBeNull()
  expect(both.standardUncertaintyK).toBeLessThan(alone.standardUncertaintyK)

  model.takeOut(model.further.value[0]!.id)
  await expect.poll(() => temperatureOf(model).byReference.length).toBe(1)
  model.dispose()
})

test('references that cannot both be right are told apart, with what they differ by', async () => {
  const model = await practised()
  await another(model, 3100)
  const found = temperatureOf(model)
  expect(found.betweenReferencesK).toBeGreaterThan(20)
  expect(found.findings.map(({ code }) => code)).toContain('references disagree')
  model.dispose()
})

test('what was put beside survives a reload', async () => {
  const draft = memoryDraft()
  const before = await practised(started([], draft))
  before.putBeside()
  const { id } = before.further.value[0]!
  await expect.poll(() => draft.find('further')).toBeTruthy()
  await expect.poll(async () => (await draft.find('notes')) !== undefined).toBe(true)
  before.dispose()
  const after = started([], draft)
  await after.resumed
  expect(after.further.value.map((one) => one.id)).toEqual([id])
  // It alone serves until the next one is recorded.
  expect(after.inUse.value?.id).toBe(id)
  after.dispose()
})
