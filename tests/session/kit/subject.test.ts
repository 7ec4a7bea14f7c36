import { describe, expect, test } from 'vitest'
import { LAMP_TARGETS } from '../../../src/physics/lamp-targets.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import {
  CARRIERS,
  lampSurface,
  subjectGroup,
  subjectName,
  subjectOrigin,
  subjectTemperature,
} from '../../../src/session/kit/subject.ts'
import { residualWords } from '../../../src/ui/words/kit.ts'

test('a clean bright metal is never what is read beside a known heat', () => {
  const ids = CARRIERS.map(({ id }) => id)
  expect(ids).toContain('steel-oxidised')
  expect(ids).toContain('cavity')
  for (const bright of [
    'copper-clean',
    'silver-clean',
    'gold-clean',
    'steel-clean',
    'tungsten-bare',
  ])
    expect(ids).not.toContain(bright)
})

describe('what is photographed', () => {
  test('is known by melting, and errs for itself', () => {
    const salt = { kind: 'known heat', choice: { id: 'sodium-chloride' } } as const
    // Roberts 1924 (Phys. Rev. 23, 386): sodium chloride melts at 800.4 °C.
    expect(subjectTemperature(salt)).toMatchObject({ ok: true, temperatureK: 800.4 + 273.15 })
    expect(subjectGroup(salt)).toBeNull()
    expect(subjectOrigin(salt)).toEqual({
      kind: 'known heat',
      id: 'sodium-chloride',
      atmosphere: null,
      steelClass: null,
      valueK: null,
      limitsOfErrorK: null,
    })
  })

  test('beside a thermocouple errs with all others of that thermocouple', () => {
    const choice = { id: 'thermocouple', valueK: 1193, limitsOfErrorK: 7 } as const
    expect(subjectGroup({ kind: 'known heat', choice })).toBe('thermocouple')
    expect(subjectTemperature({ kind: 'known heat', choice: { id: 'thermocouple' } })).toEqual({
      ok: false,
      code: 'value needed',
    })
  })
})

describe('a lamp that is measured', () => {
  test('errs with all other settings of the same lamp', () => {
    const model = createLampModel(null)
    model.change({ name: 'Bench lamp' })
    const first = model.subject()
    model.settingStored()
    const second = model.subject()
    expect(first && second && subjectGroup(first)).toBe(second && subjectGroup(second))
    expect(first && subjectName(first)).toBe('Bench lamp, 2700 K')
    // What is kept is the colour temperature; the filament's own stays beside it.
    expect(first?.origin.trueTemperatureK).toBeLessThan(first?.colourTemperatureK ?? 0)
  })

  test('is none while its meters say nothing, and says how it was measured once they do', () => {
    const model = createLampModel(null)
    const lamp = { ...model.form.value.lamp, ratedVolts: 230 }
    model.change({ name: '  ', method: 'volts', lamp })
    expect(model.outcome.value).toEqual({ missing: ['volts'] })
    expect(model.subject()).toBeNull()
    model.change({ typed: { volts: '200.0', amperes: '', watts: '', coldOhms: '' } })
    const { lampId, origin, ...found } = model.subject()!
    expect(lampId).toBe(model.lampId)
    expect(found).toMatchObject({ kind: 'lamp', target: 'frosted-bulb' })
    expect(origin).toMatchObject({
      kind: 'lamp',
      lampName: 'Lamp',
      method: 'volts',
      lamp,
      readings: { volts: { value: 200 }, amperes: null, watts: null },
    })
    expect(origin.readings).not.toHaveProperty('coldOhms')
    // A dimmed lamp is colder than a rated one.
    expect(found.colourTemperatureK).toBeLessThan(2700)
  })

  test.each(LAMP_TARGETS)(
    'on $id counts as grey within the slope of what is photographed',
    (target) => {
      expect(lampSurface(target.id)).toMatchObject({
        lnGreenOverRed: 0,
        standardUncertainty: target.slopeUncertainty,
      })
    },
  )

  test('climbs a ladder rung by rung, with the meters cleared, and skips what is kept', () => {
    const model = createLampModel(null)
    model.change({ method: 'volts', typed: { volts: '230', amperes: '', watts: '', coldOhms: '' } })
    model.ladder.value = { rung: 0, kept: [1] }
    model.settingStored()
    expect(model.ladder.value).toEqual({ rung: 2, kept: [1, 0] })
    expect(model.form.value.typed.volts).toBe('')
    model.settingStored()
    model.settingStored()
    expect(model.ladder.value?.kept).toHaveLength(4)
  })
})

test('a residual is told by its size', () => {
  expect(residualWords(0.4)).toBe('agrees with the rest')
  expect(residualWords(-2)).toContain('redder than expected')
  expect(residualWords(4.2)).toContain('4.2 standard deviations')
})
