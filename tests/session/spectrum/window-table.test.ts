import { describe, expect, test } from 'vitest'
import { MEASURED_WINDOW } from '../../../src/physics/windows.ts'
import type { SpectrumModel } from '../../../src/session/spectrum/model-types.ts'
import { memoryDraft } from './direct-bench.ts'
import { practised, started, temperatureOf } from './practised.ts'

describe('a window known by a measured table', () => {
  /** A made-up pane that takes more and more off towards the violet. */
  const pane = (nm: number) => 0.9 - 0.25 * Math.exp((400 - nm) / 150)
  const asText = (scale: number, from = 350, to = 1000) =>
    Array.from({ length: 1 + (to - from) / 10 }, (_, i) => from + 10 * i)
      .map((nm) => `${nm};${(scale * pane(nm)).toFixed(4).replace('.', ',')}`)
      .join('\n')
  const give = async (model: SpectrumModel, text: string, name = 'pane.csv') => {
    model.window.cover.value = MEASURED_WINDOW
    await model.imported.addTexts([{ name, step: 'window', text, simulated: null }])
  }
  const settled = (model: SpectrumModel) => expect.poll(() => model.busy.value).toBe(false)

  test('is divided out, in percent as in shares, with its own term in the budget', async () => {
    const model = await practised()
    const bareK = temperatureOf(model).temperatureK
    await give(model, asText(100))
    expect(model.window.foundUnit.value).toBe('percent')
    await settled(model)
    const inPercent = temperatureOf(model)
    // A glow seen through it looks redder than it is: divided out it is hotter.
    expect(inPercent.temperatureK).toBeGreaterThan(bareK + 10)
    const term = inPercent.budget.find((entry) => entry.term === 'window')
    expect(term!.standardUncertaintyK).toBeGreaterThan(0.3)
    model.imported.remove(model.imported.files.value.at(-1)!.id)
    expect(model.window.outcome.value).toEqual({ ok: false, fault: { code: 'no table' } })
    expect(model.input.value).toBeNull()
    await give(model, asText(1))
    await settled(model)
    expect(temperatureOf(model).temperatureK).toBeCloseTo(inPercent.temperatureK, 0)
    model.dispose()
  })

  test('plays no part as lamp, glow or dark, and its faults are named', async () => {
    const model = await practised()
    const { window: _, ...before } = model.imported.roles.value
    await give(model, asText(1, 350, 600))
    expect(model.imported.roles.value).toMatchObject(before)
    expect(model.window.outcome.value).toMatchObject({ fault: { code: 'does not cover' } })
    await give(model, asText(1.2))
    expect(model.window.outcome.value).toMatchObject({ fault: { code: 'over one' } })
    model.window.uncertainty.value = null
    expect(model.window.outcome.value).toMatchObject({ fault: { code: 'no uncertainty' } })
    model.dispose()
  })

  test('survives a reload, and goes with starting over', async () => {
    const draft = memoryDraft()
    const before = await practised(started([], draft))
    await give(before, asText(100))
    before.window.uncertainty.value = 0.8
    await settled(before)
    await expect.poll(() => draft.held.get('notes')).toContain('"windowUncertainty":0.8')
    await expect.poll(() => draft.held.get('texts')).toContain('pane.csv')
    before.dispose()
    const after = started([], draft)
    await expect.poll(() => after.measured.value?.result.ok).toBe(true)
    expect(temperatureOf(after).temperatureK).toBe(temperatureOf(before).temperatureK)
    expect(after.window.uncertainty.value).toBe(0.8)
    after.clear()
    expect(after.window.cover.value).toBe('none')
    after.dispose()
  })
})
