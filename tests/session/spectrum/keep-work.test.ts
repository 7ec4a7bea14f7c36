import { afterEach, describe, expect, test, vi } from 'vitest'
import { USUAL_INSTRUMENT } from '../../../src/estimate/spectrum/types.ts'
import { NOTES } from '../../../src/session/draft.ts'
import type { SpectrumModel } from '../../../src/session/spectrum/model-types.ts'
import { memoryDraft } from './direct-bench.ts'
import { started } from './practised.ts'

afterEach(() => {
  vi.useRealTimers()
})

/** Everything that a person can say of spectra, each other than it is at first. */
const SAID: Record<string, [read: (of: SpectrumModel) => { value: unknown }, said: unknown]> = {
  step: [(of) => of.step, 'glow'],
  range: [(of) => of.range, { fromNm: 500, toNm: 720 }],
  instrument: [(of) => of.instrument, { ...USUAL_INSTRUMENT, saturationLevel: 65_535 }],
  emitter: [(of) => of.lamp.emitter, 'surface'],
  'temperature of a black body': [
    (of) => of.lamp.black,
    { temperatureK: 1500, standardUncertaintyK: 8 },
  ],
  surface: [(of) => of.lamp.surfaceId, 'cavity'],
  quantity: [(of) => of.lamp.quantity, 'photons'],
  'further responses': [(of) => of.moreResponses, ['another']],
  'that it glows': [(of) => of.statedGlow, true],
  'name of the response': [(of) => of.responseName, 'Bench'],
  settings: [(of) => of.settings, 'slit 25 µm'],
  material: [(of) => of.materialId, 'steel-oxidised'],
  cover: [(of) => of.window.cover, 'glass'],
  'unit of the window': [(of) => of.window.unit, 'percent'],
  'uncertainty of the window': [(of) => of.window.uncertainty, 0.8],
  'wavelengths of a ratio': [(of) => of.ratioNm, [560, 660]],
  object: [(of) => of.object, 'kiln three'],
  remarks: [(of) => of.remarks, 'door open'],
}

const stored = async (draft: ReturnType<typeof memoryDraft>, text: string) =>
  expect.poll(() => draft.held.get(NOTES)).toContain(text)

/** What the notes say of a model of which nothing was said. */
async function firstNotes() {
  const draft = memoryDraft()
  const model = started([], draft)
  await stored(draft, '"remarks":""')
  model.dispose()
  return JSON.parse(draft.held.get(NOTES)!)
}

describe('a reload', () => {
  test('brings back all that was said, and of the filament what was typed', async () => {
    const draft = memoryDraft()
    const before = started([], draft)
    for (const [read, said] of Object.values(SAID)) read(before).value = said
    before.lamp.filament.value.change({ name: 'Bench lamp', dimmerWatts: 40 })
    before.useStored('kept response')
    before.range.value = { fromNm: 500, toNm: 720 }
    await stored(draft, 'door open')
    before.dispose()
    const after = started([], draft)
    await after.resumed
    for (const [what, [read, said]] of Object.entries(SAID))
      expect(read(after).value, what).toEqual(said)
    expect(after.lamp.filament.value.form.value).toEqual(before.lamp.filament.value.form.value)
    expect(after.storedResponse.value).toBe('kept response')
    after.dispose()
  })

  test('onto a later version takes up what an earlier one has kept, with what was usual then', async () => {
    const draft = memoryDraft()
    const notes = await firstNotes()
    for (const later of [
      'surfaceId',
      'quantity',
      'moreResponses',
      'statedGlow',
      'windowUnit',
      'windowUncertainty',
    ])
      delete notes[later]
    delete notes.roles.window
    delete notes.lampForm.dimmerWatts
    await draft.store(NOTES, { ...notes, object: 'kiln three' })
    const model = started([], draft)
    await model.resumed
    expect(model.object.value).toBe('kiln three')
    const fresh = started()
    for (const [what, [read]] of Object.entries(SAID))
      if (what !== 'object') expect(read(model).value, what).toEqual(read(fresh).value)
    expect(model.imported.roles.value).toEqual(fresh.imported.roles.value)
    expect(model.lamp.filament.value.form.value.dimmerWatts).toBeNull()
    for (const one of [model, fresh]) one.dispose()
  })

  test('leaves alone what was opened before the earlier work could be read', async () => {
    const draft = memoryDraft()
    await draft.store(NOTES, { ...(await firstNotes()), object: 'kiln three' })
    const model = started([], draft)
    await Promise.all([
      model.imported.addTexts([{ name: 'new.csv', step: 'glow', text: '', simulated: null }]),
      model.resumed,
    ])
    expect(model.object.value).toBe('')
    expect(model.imported.files.value).toHaveLength(1)
    model.dispose()
  })

  test('finds none of what a damaged draft holds', async () => {
    const notes = await firstNotes()
    for (const wrong of [
      { step: 'elsewhere' },
      { emitter: 'sun' },
      { quantity: 'lumens' },
      { windowUnit: 'decibels' },
      { ratioNm: [550] },
      { black: { temperatureK: -3, standardUncertaintyK: 1 } },
      { lampForm: { ...notes.lampForm, method: 'guessed' } },
    ]) {
      const draft = memoryDraft()
      await draft.store(NOTES, { ...notes, object: 'kiln three', ...wrong })
      const model = started([], draft)
      await model.resumed
      expect(model.object.value, JSON.stringify(wrong)).toBe('')
      model.dispose()
    }
    const draft = memoryDraft()
    await draft.store(NOTES, { ...notes, object: 'kiln three' })
    await draft.store('texts', [{ id: 'a', name: 'a', step: 'elsewhere', text: '' }])
    await draft.store('further', [{ id: 'a', response: {}, simulated: false }])
    const model = started([], draft)
    await model.resumed
    expect(model.object.value).toBe('kiln three')
    expect([model.imported.files.value, model.further.value]).toEqual([[], []])
    model.dispose()
  })
})

describe('what is typed', () => {
  test('is stored a quarter of a second after the last letter, once, and not after its end', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    const draft = memoryDraft()
    const store = vi.spyOn(draft, 'store')
    const model = started([], draft)
    await model.resumed
    for (const remarks of ['d', 'do', 'door']) {
      model.remarks.value = remarks
      vi.advanceTimersByTime(200)
    }
    expect(store).not.toHaveBeenCalled()
    vi.advanceTimersByTime(60)
    expect(store).toHaveBeenCalledExactlyOnceWith(
      NOTES,
      expect.objectContaining({ remarks: 'door' }),
    )
    model.remarks.value = 'door open'
    model.dispose()
    vi.advanceTimersByTime(1000)
    expect(store).toHaveBeenCalledOnce()
  })
})
