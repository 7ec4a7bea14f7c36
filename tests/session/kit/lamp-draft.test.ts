import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { forgetLampDraft, keepLampDraft } from '../../../src/session/kit/lamp-draft.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import { tabStorage } from '../tab-storage.ts'

let kept: Map<string, string>
beforeEach(() => {
  kept = tabStorage()
})
afterEach(() => vi.unstubAllGlobals())

/** As after a reload: nothing is left but what the tab has stored. */
function newLamp() {
  const model = createLampModel(null)
  keepLampDraft(model)
  return model
}

test('a lamp that is being described comes back after a reload, its meters empty', () => {
  const before = newLamp()
  before.change({ name: 'Bench lamp', method: 'resistance' })
  const { typed } = before.form.peek()
  before.change({ typed: { ...typed, coldOhms: '4.2', volts: '11.9', amperes: '3.1' } })
  const after = newLamp().form.peek()
  expect(after.name).toBe('Bench lamp')
  expect(after.method).toBe('resistance')
  expect(after.typed).toEqual({ volts: '', amperes: '', watts: '', coldOhms: '4.2' })
})

test('a lamp that was kept leaves an empty form, as does one that nobody described', () => {
  newLamp()
  expect(kept.size).toBe(0)
  const model = newLamp()
  model.change({ name: 'Bench lamp' })
  model.inKit.value = true
  forgetLampDraft(model)
  expect(newLamp().form.peek().name).toBe('')
})

test('what was stored and is no lamp is left alone', () => {
  for (const text of [
    '{',
    '{"name":7}',
    '{"name":"x","lamp":{"rating":{"colourTemperatureK":5}}}',
  ]) {
    kept.set('glowbook.typing.lamp new', text)
    expect(newLamp().form.peek().name).toBe('')
  }
})
