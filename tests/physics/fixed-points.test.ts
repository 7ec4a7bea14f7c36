import { describe, expect, it } from 'vitest'
import {
  type FixedPointChoice,
  fixedPointTemperature,
  KNOWN_HEATS,
} from '../../src/physics/fixed-points.ts'
import { crayonLimits, thermocoupleLimits } from '../../src/physics/thermocouple.ts'
import { celsiusFromKelvin, kelvinFromCelsius } from '../../src/physics/units.ts'
import { KNOWN_HEAT_HAZARD_WORDS, KNOWN_HEAT_STEP_WORDS } from '../../src/ui/words/known-heats.ts'
import { expectPrinted } from '../close-to.ts'

function found(choice: FixedPointChoice) {
  const result = fixedPointTemperature(choice)
  if (!result.ok) throw new Error(`refused: ${result.code}`)
  return result
}
const celsius = (choice: FixedPointChoice) => celsiusFromKelvin(found(choice).temperatureK)
const refusal = (choice: FixedPointChoice) => {
  const result = fixedPointTemperature(choice)
  return result.ok ? 'ok' : result.code
}

describe('known heats', () => {
  it('melt salts where Roberts 1924 (Phys. Rev. 23, 386) has them', () => {
    expectPrinted(celsius({ id: 'potassium-chloride' }), '770.3')
    expectPrinted(celsius({ id: 'sodium-chloride' }), '800.4')
    expectPrinted(celsius({ id: 'sodium-sulfate' }), '884.7')
    expectPrinted(celsius({ id: 'potassium-sulfate' }), '1069.1')
    // +-2 °C for the older scale, as a rectangle.
    expectPrinted(found({ id: 'sodium-chloride' }).pointUncertaintyK, '1.2')
  })

  it('agree with later melting points of salts (CRC, from memory) within twice their uncertainty', () => {
    // CRC: NaCl 802.018, KCl 771, Na2SO4 884, K2SO4 1069 °C.
    for (const [id, crc] of [
      ['sodium-chloride', 802.018],
      ['potassium-chloride', 771],
      ['sodium-sulfate', 884],
      ['potassium-sulfate', 1069],
    ] as const)
      expect(Math.abs(celsius({ id }) - crc)).toBeLessThan(2 * found({ id }).pointUncertaintyK)
  })

  it('freeze metals at the ITS-90 points when covered, lower in open air (from memory)', () => {
    expectPrinted(celsius({ id: 'aluminium' }), '660.323')
    expectPrinted(celsius({ id: 'silver', atmosphere: 'covered' }), '961.78')
    expectPrinted(celsius({ id: 'gold' }), '1064.18')
    expectPrinted(celsius({ id: 'copper', atmosphere: 'covered' }), '1084.62')
    expectPrinted(celsius({ id: 'silver' }), '951')
    expectPrinted(celsius({ id: 'copper', atmosphere: 'open-air' }), '1065')
  })

  it('lose magnetism at 770 °C (iron, CRC) and 730 to 750 °C with much carbon (common practice)', () => {
    const magnet = (steelClass: 'low-carbon' | 'high-carbon' | 'unknown') =>
      found({ id: 'magnet-point', steelClass })
    expectPrinted(celsiusFromKelvin(magnet('low-carbon').temperatureK), '770')
    const hard = celsiusFromKelvin(magnet('high-carbon').temperatureK)
    expect(hard >= 730 && hard <= 750).toBe(true)
    expect(magnet('unknown').standardUncertaintyK).toBeGreaterThan(
      magnet('low-carbon').standardUncertaintyK,
    )
  })

  it('total about +-6 K for salt, 8 for metal, 15 for a magnet (1 standard uncertainty)', () => {
    expectPrinted(found({ id: 'sodium-chloride' }).standardUncertaintyK, '6')
    expectPrinted(found({ id: 'copper', atmosphere: 'covered' }).standardUncertaintyK, '8')
    expectPrinted(
      found({ id: 'magnet-point', steelClass: 'low-carbon' }).standardUncertaintyK,
      '14',
    )
  })

  it('know no shadow for mild steel, and need a value where there is one to state', () => {
    expect(refusal({ id: 'decalescence', steelClass: 'low-carbon' })).toBe(
      'class not known for this',
    )
    expect(refusal({ id: 'recalescence' })).toBe('class not known for this')
    expect(refusal({ id: 'thermocouple' })).toBe('value needed')
    expect(refusal({ id: 'crayon', valueK: 400, limitsOfErrorK: 4 })).toBe('value out of range')
    expect(refusal({ id: 'nothing' as 'crayon' })).toBe('unknown heat')
    const stated = found({ id: 'thermocouple', valueK: 1173.15, limitsOfErrorK: 6.75 })
    expectPrinted(stated.pointUncertaintyK, '3.9')
  })

  it('brighten on cooling below where they darken on heating (hysteresis of the arrest)', () => {
    const at = (id: 'decalescence' | 'recalescence') =>
      found({ id, steelClass: 'high-carbon' }).temperatureK
    expect(at('decalescence')).toBeGreaterThan(at('recalescence'))
    // Equilibrium 727 °C (iron-carbon diagram) lies between.
    expect(at('decalescence')).toBeGreaterThan(kelvinFromCelsius(727))
    expect(at('recalescence')).toBeLessThan(kelvinFromCelsius(727))
  })

  it('have words for every step and hazard, and say the warnings that matter', () => {
    for (const heat of KNOWN_HEATS) {
      for (const step of heat.steps) expect(KNOWN_HEAT_STEP_WORDS[step]).toBeTruthy()
      for (const hazard of heat.hazards) expect(KNOWN_HEAT_HAZARD_WORDS[hazard]).toBeTruthy()
      expect(heat.steps[0]).toBe('isolate mains')
      const melts = heat.steps.includes('watch first melt')
      if (melts) expect(heat.steps).toContain('carry fumes off')
      if (melts)
        expect(heat.steps.indexOf('flame off')).toBeLessThan(
          heat.steps.indexOf('photograph carrier'),
        )
      if (heat.steps.includes('pinch on carrier'))
        expect(heat.steps.indexOf('dry salt')).toBeLessThan(heat.steps.indexOf('pinch on carrier'))
      if (heat.steps.includes('snippet on carrier'))
        expect(heat.hazards).toContain('clean bead reads hot')
    }
  })
})

describe('stated instruments', () => {
  it('have the limits of IEC 60584-1:2013 (from memory) and +-1 % for crayons (common practice)', () => {
    expect(thermocoupleLimits('K', 2, kelvinFromCelsius(200))).toBe(2.5)
    expectPrinted(thermocoupleLimits('K', 2, kelvinFromCelsius(900))!, '6.75')
    expectPrinted(thermocoupleLimits('K', 1, kelvinFromCelsius(900))!, '3.6')
    expectPrinted(thermocoupleLimits('S', 2, kelvinFromCelsius(1200))!, '3')
    expect(thermocoupleLimits('K', 2, kelvinFromCelsius(1250))).toBeUndefined()
    expect(thermocoupleLimits('S', 1, kelvinFromCelsius(900))).toBeUndefined()
    expectPrinted(crayonLimits(kelvinFromCelsius(800)), '8')
  })
})
