import {
  type Color,
  converter,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  filterGrayscale,
} from 'culori'
import { expect, test } from 'vitest'
import { lightnessOfGlow, mapColour } from '../../src/colour/map-scale.ts'

const oklab = converter('oklab')
const SHARES = Array.from({ length: 33 }, (_, i) => i / 32)
const rgb = (share: number, brightest?: number) => {
  const [r, g, b] = mapColour(share, brightest)
  return { mode: 'rgb' as const, r, g, b }
}

// Simulated after Machado, Oliveira & Fernandes 2009, as culori holds it.
const EYES: readonly (readonly [string, (colour: Color) => Color])[] = [
  ['everybody', (colour) => colour],
  ['no red cones', filterDeficiencyProt(1)],
  ['no green cones', filterDeficiencyDeuter(1)],
  ['no blue cones', filterDeficiencyTrit(1)],
  ['a grey print', filterGrayscale(1)],
]
test.each(EYES)('lightness rises steadily with temperature for %s', (_, seen) => {
  const lightness = SHARES.map((share) => oklab(seen(rgb(share)))!.l)
  const steps = lightness.slice(1).map((l, i) => l - lightness[i]!)
  const mean = (lightness.at(-1)! - lightness[0]!) / steps.length
  expect(mean).toBeGreaterThan(0.015)
  for (const step of steps) expect(step).toBeGreaterThan(0.3 * mean)
})

test('where the eye is used to the dark no colour is lighter than the glow', () => {
  // A glow of red 0.4 and green 0.04 in linear Display P3: Y = 0.229 x 0.4 + 0.692 x 0.04.
  const brightest = lightnessOfGlow(0.119)
  const lightness = SHARES.map((share) => oklab(rgb(share, brightest)).l)
  // Half of an 8-bit code.
  for (const l of lightness) expect(l).toBeLessThan(brightest + 0.002)
  expect(lightness.at(-1)! - lightness[0]!).toBeGreaterThan(0.3)
})
