import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { CAUSES_OF_IMPOSSIBLE, compareWithLimits } from '../../src/physics/limits.ts'
import { MATERIALS, materialById } from '../../src/physics/materials.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'

const verdict = (id: string, celsius: number, u = 20) =>
  compareWithLimits(materialById(id)!, kelvinFromCelsius(celsius), u).verdict

describe('limits of a material', () => {
  it('80Ni-20Cr lasts to 1200 °C and melts about 1400 °C (common practice)', () => {
    expect(verdict('nickel-chromium-oxidised', 1100)).toBe('possible')
    expect(verdict('nickel-chromium-oxidised', 1250)).toBe('above service')
    expect(verdict('nickel-chromium-oxidised', 1400)).toBe('melting')
    expect(verdict('nickel-chromium-oxidised', 1430)).toBe('above melting')
    expect(verdict('nickel-chromium-oxidised', 1500)).toBe('impossible')
  })

  it('copper melts at 1084.62 °C (ITS-90): 1100 +- 5 is impossible, 1100 +- 20 is not sure', () => {
    expect(verdict('copper-clean', 1100, 5)).toBe('impossible')
    expect(verdict('copper-clean', 1100, 20)).toBe('above melting')
  })

  it('takes 95 %, two standard uncertainties, for sure: between one and two it is not', () => {
    expect(verdict('copper-clean', 1100, 10)).toBe('above melting')
    expect(verdict('copper-clean', 1100, 7)).toBe('impossible')
  })

  it('what a material bears it bears: the very service temperature is possible', () => {
    const { service } = materialById('nickel-chromium-oxidised')!
    const at = (k: number) => compareWithLimits(materialById('nickel-chromium-oxidised')!, k, 5)
    expect(at(service!.temperatureK).verdict).toBe('possible')
    expect(at(service!.temperatureK + 0.1).verdict).toBe('above service')
  })

  it('lists the likely causes in order, tone curve first, only above melting', () => {
    const finding = compareWithLimits(materialById('fecral-oxidised')!, 2000, 20)
    expect(finding.causes).toEqual([
      'tone curve',
      'white balance',
      'reflection',
      'wrong material',
      'flame or plasma light',
    ])
    expect(finding.causes).toBe(CAUSES_OF_IMPOSSIBLE)
    expect(compareWithLimits(materialById('fecral-oxidised')!, 1300, 20).causes).toEqual([])
    expect(verdict('grey-body', 900)).toBe('no limit known')
  })

  it('never takes a hotter reading for a more possible one', () => {
    const order = [
      'no limit known',
      'possible',
      'above service',
      'melting',
      'above melting',
      'impossible',
    ]
    fc.assert(
      fc.property(
        fc.constantFrom(...MATERIALS),
        fc.double({ min: 500, max: 4000, noNaN: true }),
        (material, t) => {
          const rank = (k: number) => order.indexOf(compareWithLimits(material, k, 15).verdict)
          expect(rank(t + 50)).toBeGreaterThanOrEqual(rank(t))
        },
      ),
    )
  })
})
