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
