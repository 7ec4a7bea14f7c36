import { expect, test } from 'vitest'
import { ELEMENTS, TERMS, usualUncertainty } from '../../../src/session/check/elements.ts'

test('a measure stated without ± has the usual one: a share of it, in two digits', () => {
  // Callipers on a wire of 0.4 mm, a tape on 1.5 m: common practice.
  expect(usualUncertainty('diameterM', 0.0004)).toBe(0.000012)
  expect(usualUncertainty('lengthM', 1.5)).toBe(0.03)
  expect(usualUncertainty('volts', 240)).toBe(3.6)
  expect(usualUncertainty('emissivity', 0.87)).toBe(0.052)
  // A sign is no measure.
  expect(usualUncertainty('amperes', -4)).toBe(0.1)
})

test('that of a room, of a shield and of its share does not grow with the value', () => {
  for (const value of [0, 20, 800]) {
    expect(usualUncertainty('room', value)).toBe(3)
    expect(usualUncertainty('shield temperature', value)).toBe(100)
    expect(usualUncertainty('shield share', value)).toBe(0.15)
  }
})

test('only what stands in a tube or a groove has a shield; a groove gives back what it takes', () => {
  const shielded = Object.entries(ELEMENTS).filter(([, { shield }]) => shield !== null)
  expect(shielded.map(([id]) => id)).toEqual(['coil in quartz', 'coil in groove'])
  expect(ELEMENTS['coil in quartz'].shield).toMatchObject({ celsius: { value: 700 }, airShare: 1 })
  expect(ELEMENTS['coil in groove'].shield).toMatchObject({ celsius: null, airShare: 0.5 })
  // What is asked for depends on the shape: a coil is wound of a wire.
  expect(TERMS[ELEMENTS['coil in groove'].shape]).toContain('pitchM')
  expect(TERMS[ELEMENTS.sheath.shape]).toEqual(['lengthM', 'diameterM'])
})

test('how well a measure is usually known, as a share of it (common practice)', () => {
  // What a person can name, within a twentieth of it.
  const shares = {
    wireDiameterM: 0.03,
    coilDiameterM: 0.03,
    widthM: 0.03,
    'glowing share': 0.03,
    pitchM: 0.05,
    thicknessM: 0.05,
    turns: 0.01,
    watts: 0.02,
    ohms: 0.02,
  } as const
  for (const [term, share] of Object.entries(shares)) {
    const uncertainty = usualUncertainty(term as keyof typeof shares, 10)
    expect(uncertainty / 10, term).toBeGreaterThan(0.95 * share)
    expect(uncertainty / 10, term).toBeLessThan(1.05 * share)
  }
})

test('quartz glass takes about half of what a coil radiates, by Planck’s law above 3.5 µm', () => {
  // Blackbody fraction F(0 to λT) at 3.5 µm and 1150 K, λT = 4025 µm K: 0.49 (Howell and Siegel, Thermal
  // Radiation Heat Transfer, appendix A; from memory).
  for (const id of ['coil in quartz', 'coil in groove'] as const) {
    const { value, standardUncertainty } = ELEMENTS[id].shield!.share
    expect(Math.abs(value - 0.51)).toBeLessThan(0.02)
    // A quarter to three quarters, nineteen times in twenty, less at the ends.
    expect(value - 2 * standardUncertainty).toBeGreaterThan(0.19)
    expect(value - 2 * standardUncertainty).toBeLessThan(0.21)
  }
  // Tubes of radiant heaters run at 600 to 800 °C.
  const tube = ELEMENTS['coil in quartz'].shield!.celsius!
  expect([tube.value - tube.standardUncertainty, tube.value + tube.standardUncertainty]).toEqual([
    600, 800,
  ])
})
