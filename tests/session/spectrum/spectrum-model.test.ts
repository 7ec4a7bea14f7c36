import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import { reading } from '../../../src/log/schema/reading-schema.ts'
import type { KitItem } from '../../../src/log/schema/types.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import type { SpectrumModel } from '../../../src/session/spectrum/model-types.ts'
import { spectrumRecord } from '../../../src/session/spectrum/spectrum-record.ts'
import { practiceSpectra } from '../../../src/sources/practice/practice-spectra.ts'
import { asStored } from '../log/saved-spectrum.ts'
import { directBench, memoryDraft } from './direct-bench.ts'
import { practised, started, temperatureOf } from './practised.ts'

function itemOf(model: SpectrumModel, data: object): KitItem {
  const using = model.inUse.value!
  return {
    version: 1,
    id: using.id,
    kind: 'response',
    name: 'Bench spectrometer',
    addedAt: '2026-03-14T10:00:00.000Z',
    simulated: using.simulated,
    demo: false,
    date: { iso: '2026-03-14T10:00:00.000Z', zone: 'UTC' },
    notes: '',
    cameraId: null,
    balanceState: null,
    temperatureK: 2700,
    standardUncertaintyK: 40,
    data: JSON.parse(JSON.stringify(data)),
  }
}

describe('the practice spectra', () => {
  test('are read to a temperature whose range holds the truth, and marked as simulated', async () => {
    const model = await practised()
    const { interval95K, apparentPeak, temperatureK } = temperatureOf(model)
    const truthK = practiceSpectra().truthK
    expect(interval95K[0]).toBeLessThan(truthK)
    expect(interval95K[1]).toBeGreaterThan(truthK)
    // What the raw peak would mean is off by more than a factor of two: the point of the exercise.
    expect(apparentPeak!.temperatureK).toBeGreaterThan(2 * temperatureK)
    expect(model.simulated.value).toBe(true)
    expect(model.truthK.value).toBe(truthK)
    model.dispose()
  })
})

test('one more imported file leaves response and temperature as they are', async () => {
  const asked: string[] = []
  const direct = directBench()
  const bench = {
    ...direct,
    respond: (input: Parameters<typeof direct.respond>[0]) => {
      asked.push('respond')
      return direct.respond(input)
    },
  }
  const model = await practised(started([], memoryDraft(), bench))
  const before = { id: model.inUse.value!.id, input: model.input.value, asked: asked.length }
  const text = '500;1\n510;2\n520;3\n530;4\n540;5\n550;6\n560;7\n570;8\n'
  await model.imported.addTexts([{ name: 'dark.txt', step: 'glow', text, simulated: null }])
  expect(model.imported.spectra.value).toHaveLength(5)
  expect(asked).toHaveLength(before.asked)
  expect(model.inUse.value!.id).toBe(before.id)
  expect(model.input.value).toBe(before.input)
  model.dispose()
})

describe('the record of a reading', () => {
  const recordOf = (model: SpectrumModel) =>
    spectrumRecord({
      input: model.measured.value!.input,
      result: temperatureOf(model),
      responseId: model.inUse.value!.id,
      materialId: model.materialId.value,
      cover: model.window.cover.value,
      tableName: null,
      fileName: 'glow.csv',
      simulated: true,
      truthK: null,
      object: ' kiln ',
      notes: '',
      now: new Date('2026-03-14T10:00:00Z'),
    })

  test('fits the log’s schema, and its inputs give the same temperature again', async () => {
    const model = await practised()
    const record = recordOf(model)
    const parsed = v.safeParse(reading, asStored(record))
    expect(parsed.issues?.map(({ message, path }) => [message, path?.map((p) => p.key)])).toBe(
      undefined,
    )
    const { inputs } = JSON.parse(JSON.stringify(record))
    const again = temperatureFromSpectrum(inputs)
    expect(again.ok && again.temperatureK).toBe(temperatureOf(model).temperatureK)
    model.dispose()
  })

  test('its budget adds up, and names what other readings of this response share', async () => {
    const model = await practised()
    const { result, object } = recordOf(model)
    expect(object).toBe('kiln')
    if (result.kind !== 'temperature') throw new Error('no temperature')
    const squares = result.budget.reduce((sum, term) => sum + term.contributionK ** 2, 0)
    expect(Math.sqrt(squares) / result.standardUncertaintyK).toBeCloseTo(1, 9)
    const shared = Object.fromEntries(result.budget.map((one) => [one.term, one.sharedBy]))
    expect(shared['lamp temperature']).toBe(`response ${model.inUse.value!.id}`)
    expect(shared.noise).toBeNull()
    expect(shared.surface).toBe('surface cavity')
    model.dispose()
  })
})

describe('a kept response', () => {
  test('comes back from the kit with its range and gives the same temperature', async () => {
    const first = await practised()
    const made = first.made.value!
    if (!made.outcome.ok) throw new Error('no response')
    const range = { fromNm: 500, toNm: 700 }
    const item = itemOf(first, { response: made.outcome.response, range })
    first.range.value = range
    await expect.poll(() => temperatureOf(first).range.fromNm).toBe(500)

    const second = started([item])
    second.useStored(item.id)
    expect(second.range.value).toEqual(range)
    second.materialId.value = 'cavity'
    const { glow } = practiceSpectra()
    await second.imported.addTexts([{ ...glow, step: 'glow', simulated: null }])
    await expect.poll(() => second.measured.value?.result.ok).toBe(true)
    expect(temperatureOf(second).temperatureK).toBe(temperatureOf(first).temperatureK)
    // The glow's file is not simulated, but the response is.
    expect(second.simulated.value).toBe(true)
    first.dispose()
    second.dispose()
  })

  test('that does not fit its schema is left out, and named', async () => {
    const model = await practised()
    const made = model.made.value!
    if (!made.outcome.ok) throw new Error('no response')
    const { response } = made.outcome
    const sound = itemOf(model, { response, range: null })
    const read = (item: KitItem) => {
      const { responses, unreadable } = sortKit([item])
      return [responses.length, unreadable.length]
    }
    expect(read(sound)).toEqual([1, 0])
    const short = { ...response, rawNoise: response.rawNoise.slice(1) }
    expect(read(itemOf(model, { response: short, range: null }))).toEqual([0, 1])
    expect(read(itemOf(model, { response: {}, range: null }))).toEqual([0, 1])
    expect(sortKit([{ ...sound, kind: 'lamp' }]).responses).toEqual([])
    model.dispose()
  })
})

describe('work in hand', () => {
  test('comes back after a reload, to the same temperature', async () => {
    const draft = memoryDraft()
    const before = await practised(started([], draft))
    before.object.value = 'kiln three'
    before.step.value = 'glow'
    await expect.poll(() => draft.held.get('notes')).toContain('kiln three')
    before.dispose()

    const after = started([], draft)
    await expect.poll(() => after.measured.value?.result.ok).toBe(true)
    expect(temperatureOf(after).temperatureK).toBe(temperatureOf(before).temperatureK)
    expect(after.object.value).toBe('kiln three')
    expect(after.step.value).toBe('glow')
    expect(after.truthK.value).toBe(practiceSpectra().truthK)
    after.dispose()
  })

  test('of another shape is not taken up', async () => {
    const draft = memoryDraft()
    draft.held.set('notes', '{"step":"elsewhere"}')
    draft.held.set('texts', '[{"id":1}]')
    const model = started([], draft)
    await expect.poll(() => draft.held.get('notes')).toContain('"step":"instrument"')
    expect(model.imported.files.value).toEqual([])
    model.dispose()
  })

  test('is gone after starting over', async () => {
    const draft = memoryDraft()
    const model = await practised(started([], draft))
    model.clear()
    expect(draft.held.has('texts')).toBe(false)
    expect(model.inUse.value).toBeNull()
    await expect.poll(() => model.measured.value).toBeNull()
    model.dispose()
  })

  test('starts over from what nobody has said yet; what holds for all work stays', async () => {
    const draft = memoryDraft()
    const bench = { ...directBench(), measure: () => Promise.reject(new Error('broken')) }
    const [model, fresh] = [started([], draft, bench), started()]
    await model.practice()
    await expect.poll(() => model.failure.value).toContain('broken')
    model.step.value = 'glow'
    model.putBeside()
    model.range.value = { fromNm: 500, toNm: 600 }
    model.moreResponses.value = ['another']
    model.statedGlow.value = true
    model.object.value = 'kiln'
    model.remarks.value = 'door open'
    model.lamp.emitter.value = 'black body'
    model.window.cover.value = 'glass'
    model.responseName.value = 'Bench'
    model.clear()
    const said = (of: SpectrumModel) =>
      [of.step, of.range, of.moreResponses, of.statedGlow, of.object, of.remarks, of.materialId]
        .concat([of.lamp.emitter, of.further, of.storedResponse, of.failure, of.truthK] as never)
        .map(({ value }) => value)
    expect(said(model)).toEqual(said(fresh))
    expect([model.simulated.value, model.busy.value]).toEqual([false, false])
    // The pane still stands there, and the instrument has its name.
    expect([model.window.cover.value, model.responseName.value]).toEqual(['glass', 'Bench'])
    for (const one of [model, fresh]) one.dispose()
  })
})

test('a layout taken wrongly is refused, and right again as found', async () => {
  const model = started()
  const rows = Array.from({ length: 20 }, (_, i) => `${500 + i};${1000 + 10 * i},5`).join('\n')
  await model.imported.addTexts([{ name: 'a.csv', step: 'glow', text: rows, simulated: null }])
  const file = model.imported.files.value[0]!
  expect(file.result?.ok && file.result.preview.decimalMark).toBe(',')
  await model.imported.choose(file.id, { delimiter: 'tab' })
  expect(model.imported.files.value[0]!.result?.ok).toBe(false)
  expect(model.recording.value).toBeNull()
  await model.imported.choose(file.id, {})
  expect(model.recording.value?.spectrum.signal[0]).toBe(1000.5)
  model.imported.remove(file.id)
  expect(model.recording.value).toBeNull()
  expect(model.imported.roles.value.glow).toBeNull()
  model.dispose()
})

test('shared files go to the step that lacks a spectrum, beside the work in hand', async () => {
  const { lamp, glow } = practiceSpectra()
  const draft = memoryDraft()
  const model = started([], draft)
  await model.takeShared([new File([lamp.text], 'lamp.csv')])
  expect(model.step.value).toBe('instrument')
  await expect.poll(() => model.inUse.value).not.toBeNull()
  await expect.poll(() => draft.held.get('texts')).toContain('lamp.csv')
  await expect.poll(() => JSON.parse(draft.held.get('notes')!).roles.lamp).not.toBeNull()
  model.dispose()
  // The next share reloads the page: the lamp comes back before the glow is put beside it.
  const next = started([], draft)
  await next.takeShared([new File([glow.text], 'glow.csv')])
  expect(next.step.value).toBe('glow')
  await expect.poll(() => next.measured.value?.result.ok).toBe(true)
  next.dispose()
})

test('a text that could not be read for want of its reader is named, and read when given again', async () => {
  const direct = directBench()
  let broken = true
  const read: typeof direct.read = (input) =>
    broken ? Promise.reject(new Error('out of memory')) : direct.read(input)
  const model = started([], memoryDraft(), { ...direct, read })
  const file = new File([practiceSpectra().lamp.text], 'lamp.csv')
  await model.imported.addFiles([file], 'instrument')
  expect(model.imported.files.value).toEqual([])
  expect(model.imported.refused.value).toMatchObject({ name: 'lamp.csv', step: 'instrument' })
  broken = false
  await model.imported.addFiles([file], 'instrument')
  expect(model.imported.spectra.value.length).toBeGreaterThan(0)
  model.dispose()
})
