import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import type { LightQuantity } from '../../../src/light/spectrum-import/quantity.ts'
import { createLampChoice } from '../../../src/session/spectrum/lamp-choice.ts'

const found = signal<LightQuantity | null>(null)

test('anything that glows can be the reference: a black body, or a surface with its slope', () => {
  const choice = createLampChoice(found)
  choice.black.value = { temperatureK: 1500, standardUncertaintyK: 4 }
  choice.emitter.value = 'black body'
  expect(choice.lamp.value).toEqual({
    emitter: 'black body',
    colourTemperatureK: 1500,
    standardUncertaintyK: 4,
  })
  // Oxidised steel until another is said: something that can be read.
  choice.emitter.value = 'surface'
  expect(choice.lamp.value).toMatchObject({
    emitter: 'surface',
    temperatureK: 1500,
    standardUncertaintyK: 4,
  })
  choice.surfaceId.value = 'no such surface'
  expect(choice.lamp.value).toBeNull()
})

test('a calibrated file counts what the person says, else what its heading says, else power', () => {
  const choice = createLampChoice(found)
  choice.emitter.value = 'calibration'
  expect(choice.lamp.value).toEqual({ emitter: 'calibration', quantity: 'power' })
  found.value = 'photons'
  expect(choice.lamp.value).toEqual({ emitter: 'calibration', quantity: 'photons' })
  choice.quantity.value = 'power'
  expect(choice.lamp.value).toEqual({ emitter: 'calibration', quantity: 'power' })
  found.value = null
})
