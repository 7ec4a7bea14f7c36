import {
  type Color,
  converter,
  filterDeficiencyDeuter,
  filterDeficiencyProt,
  filterDeficiencyTrit,
  filterGrayscale,
} from 'culori'
import { expect, test } from 'vitest'
import { changeColour, lightnessOfGlow, mapColour, NO_CHROMA } from '../../src/colour/map-scale.ts'

const oklab = converter('oklab')
const SHARES = Array.from({ length: 33 }, (_, i) => i / 32)
const colour = ([r, g, b]: readonly [number, number, number]) => ({ mode: 'rgb' as const, r, g, b })
const rgb = (share: number, brightest?: number) => colour(mapColour(share, brightest))

// Simulated after Machado, Oliveira & Fernandes 2009, as culori holds it.
const EYES: readonly (readonly [string, (colour: Color) => Color])[] = [
  ['everybody', (colour) => colour],
  ['no red cones', filterDeficiencyProt(1)],
  ['no green cones', filterDeficiencyDeuter(1)],
  ['no blue cones', filterDeficiencyTrit(1)],
  ['a grey print', filterGrayscale(1)],
]
const SCALES = [
  ['temperature', rgb],
  ['its change', (share: number) => colour(changeColour(2 * share - 1))],
] as const
const SEEN = SCALES.flatMap(([of, scale]) =>
  EYES.map(([who, seen]) => [of, who, scale, seen] as const),
)
test.each(SEEN)('lightness rises steadily with %s for %s', (_, __, scale, seen) => {
  const lightness = SHARES.map((share) => oklab(seen(scale(share)))!.l)
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

test('no change is grey, a rise green and a fall blue of one strength', () => {
  const chroma = (share: number) => {
    const { a, b } = oklab(colour(changeColour(share)))
    return Math.hypot(a, b)
  }
  expect(chroma(0)).toBeLessThan(0.002)
  for (const share of [0.25, 0.5])
    expect(Math.abs(chroma(share) - chroma(-share))).toBeLessThan(0.02)
})

test('without hues the red of a screen alone shows both scales in order', () => {
  for (const scale of [
    mapColour,
    (share: number, ...look: [number, number]) => changeColour(2 * share - 1, ...look),
  ]) {
    const red = SHARES.map((share) => scale(share, 0.74, NO_CHROMA)[0])
    for (const [i, value] of red.entries())
      if (i > 0) expect(value - red[i - 1]!).toBeGreaterThan(0.008)
  }
})
