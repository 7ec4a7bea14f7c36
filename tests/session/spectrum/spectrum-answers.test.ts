import { expect, test } from 'vitest'
import { directBench, memoryDraft } from './direct-bench.ts'
import { started } from './practised.ts'

test('an earlier question that a later one took the place of is no failure', async () => {
  const put = () => Promise.reject(new DOMException('', 'AbortError'))
  const model = started([], memoryDraft(), { ...directBench(), respond: put })
  await model.practice()
  await new Promise((resolve) => setTimeout(resolve))
  expect(model.failure.value).toBeNull()
  model.dispose()
})

test('what is asked while the answer is on its way counts, and ends with the model', async () => {
  let closed = 0
  const held: (() => void)[] = []
  const direct = directBench()
  const measure: typeof direct.measure = (input) =>
    new Promise((resolve) => held.push(() => resolve(direct.measure(input))))
  const model = started([], memoryDraft(), { ...direct, measure, close: () => closed++ })
  await model.practice()
  await expect.poll(() => held.length).toBe(1)
  expect([model.busy.value, model.measured.value]).toEqual([true, null])
  model.ratioNm.value = [560, 660]
  await expect.poll(() => held.length).toBe(2)
  held[0]!()
  await new Promise((resolve) => setTimeout(resolve))
  expect(model.measured.value).toBeNull()
  held[1]!()
  await expect.poll(() => model.busy.value).toBe(false)
  expect(model.measured.value?.input.ratioNm).toEqual([560, 660])
  model.dispose()
  expect(closed).toBe(1)
})

test('a calibrated file needs no lamp: its own recording makes the response', async () => {
  const model = started()
  model.lamp.emitter.value = 'calibration'
  const radiance = (nm: number) => 1e20 * nm ** -5 * Math.exp(-1.4388e7 / (nm * 1423))
  const rows = Array.from({ length: 300 }, (_, i) => 500 + i).map((nm) => `${nm};${radiance(nm)}`)
  const text = ['nm;photons/(s m² nm)', ...rows].join('\n')
  await model.imported.addTexts([{ name: 'glow.csv', step: 'glow', text, simulated: null }])
  expect(model.lamp.lamp.value).toEqual({ emitter: 'calibration', quantity: 'photons' })
  await expect.poll(() => model.made.value?.recording).toBe(model.recording.value)
  expect(model.truthK.value).toBeNull()
  // A lamp without a recording of it makes none.
  model.lamp.emitter.value = 'tungsten'
  expect(model.made.value).toBeNull()
  model.dispose()
})

test('a computation that breaks down is told', async () => {
  const bench = { ...directBench(), respond: () => Promise.reject(new Error('out of memory')) }
  const model = started([], memoryDraft(), bench)
  await model.practice()
  await expect.poll(() => model.failure.value).toContain('out of memory')
  model.dispose()
})
