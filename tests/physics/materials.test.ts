import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  colourIsUsable,
  logEmissivityRatio,
  MATERIALS,
  type MaterialId,
  materialById,
  spectralEmissivity,
  totalEmissivity,
} from '../../src/physics/materials.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'
import { expectPrinted } from '../close-to.ts'

const material = fc.constantFrom(...MATERIALS)
const temperature = fc.double({ min: 800, max: 3500, noNaN: true })
const wavelength = fc.double({ min: 360, max: 830, noNaN: true })

describe('surfaces', () => {
  it('have the spectral emissivity at 0.65 um of Roeser & Wensel 1941 (from memory)', () => {
    const printed: Partial<Record<MaterialId, string>> = {
      'steel-oxidised': '0.80',
      'cast-iron-oxidised': '0.70',
      'stainless-oxidised': '0.85',
      'nickel-chromium-oxidised': '0.90',
      'nickel-chromium-iron-oxidised': '0.83',
      'fecral-oxidised': '0.78',
      'copper-oxidised': '0.70',
      'nickel-oxidised': '0.90',
      'steel-clean': '0.35',
      'nickel-clean': '0.36',
      'copper-clean': '0.10',
      'silver-clean': '0.07',
      'gold-clean': '0.14',
      'platinum-clean': '0.30',
    }
    for (const [id, value] of Object.entries(printed))
      expectPrinted(spectralEmissivity(materialById(id)!, 650, 1300).value, value, id)
    // Tungsten 0.43 in the same table is for 0.65 um; our model's 0.438 at 2000 K is Forsythe &
    // Worthing's and lies within its stated 0.01.
    const tungsten = spectralEmissivity(materialById('tungsten-bare')!, 650, 2000)
    expect(Math.abs(tungsten.value - 0.43)).toBeLessThan(tungsten.standardUncertainty)
  })

  it('have the oxidised totals of AIP, Temperature, 1941 (from memory)', () => {
    const total = (id: MaterialId, celsius: number) =>
      totalEmissivity(materialById(id)!, kelvinFromCelsius(celsius))!.value
    expectPrinted(total('nickel-chromium-oxidised', 600), '0.87')
    expectPrinted(total('nickel-chromium-oxidised', 1300), '0.89')
    expectPrinted(total('steel-oxidised', 500), '0.84')
    expectPrinted(total('steel-oxidised', 1200), '0.89')
    expectPrinted(total('steel-oxidised', 850), '0.865')
  })

  it('have no invented slope: only tungsten differs from grey', () => {
    for (const m of MATERIALS) {
      const { value, standardUncertainty } = logEmissivityRatio(m, 1173)
      if (m.id !== 'tungsten-bare') expect(value, m.id).toBe(0)
      else expect(value).toBeGreaterThan(0.03)
      expect(standardUncertainty).toBeGreaterThan(0)
      if (m.effects.includes('colour neutral')) expect(standardUncertainty).toBe(0.03)
    }
  })

  it('say first what they do to a colour reading', () => {
    for (const m of MATERIALS) expect(m.effects[0], m.id).toMatch(/^colour |^cavity is black$/)
    expect(MATERIALS.filter((m) => !colourIsUsable(m)).map((m) => m.id)).toEqual([
      'copper-clean',
      'silver-clean',
      'gold-clean',
    ])
    expect(materialById('steel-clean')!.effects[0]).toBe('colour reads hot slope unknown')
  })

  it('name a source for every number, have unique ids, and known limits in order', () => {
    expect(new Set(MATERIALS.map((m) => m.id)).size).toBe(MATERIALS.length)
    for (const m of MATERIALS) {
      const sourced = [...m.spectral, ...m.total, m.logEmissivityRatioGreenRed]
      for (const entry of sourced) {
        expect(entry.source.length, m.id).toBeGreaterThan(2)
        expect(entry.standardUncertainty).toBeGreaterThan(0)
      }
      expect(m.spectral.some((p) => p.wavelengthNm === 550)).toBe(true)
      expect(m.spectral.some((p) => p.wavelengthNm === 650)).toBe(true)
      if (m.melting) expect(m.melting.liquidusK).toBeGreaterThanOrEqual(m.melting.solidusK)
      if (m.melting && m.service) expect(m.service.temperatureK).toBeLessThan(m.melting.solidusK)
    }
  })

  it('keep emissivity within 0..1 and finite everywhere', () => {
    fc.assert(
      fc.property(material, temperature, wavelength, (m, t, nm) => {
        const spectral = spectralEmissivity(m, nm, t)
        expect(spectral.value > 0 && spectral.value <= 1).toBe(true)
        expect(spectral.standardUncertainty > 0).toBe(true)
        const total = totalEmissivity(m, t)
        if (total) expect(total.value > 0 && total.value <= 1).toBe(true)
        expect(Number.isFinite(logEmissivityRatio(m, t).value)).toBe(true)
      }),
    )
  })

  it('know nothing of an id from elsewhere', () => {
    expect(materialById('unobtainium')).toBeUndefined()
  })
})
