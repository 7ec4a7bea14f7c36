import { directTemperature } from '../colour/direct-integration.ts'
import { importBundled } from './bundled.ts'
import { type Bench, median } from './figure.ts'

const COLOURS = 4096

/** Inversions a second, fast and by direct integration, on colours on and off the locus. */
export async function runLocusBench(short = false) {
  const { colourTemperatureFromUv, uvFromColourTemperature } = await importBundled<
    typeof import('../../src/colour/planckian-locus.ts')
  >('src/colour/planckian-locus.ts')
  // Out of order, so that no branch is learnt by heart.
  const colours = Array.from({ length: COLOURS }, (_, i) => {
    const share = ((i * 2654435761) % COLOURS) / COLOURS
    return uvFromColourTemperature(800 + 3200 * share, ((i * 7919) % 101) / 2500 - 0.02)
  })
  let sum = 0
  const inversions = (rounds: number): number => {
    const start = performance.now()
    for (let round = 0; round < rounds; round++) {
      for (const colour of colours) {
        const result = colourTemperatureFromUv(colour)
        if (result.kind === 'near') sum += result.temperatureK
      }
    }
    return (rounds * COLOURS * 1000) / (performance.now() - start)
  }
  inversions(20)
  const perSecond = median(Array.from({ length: 5 }, () => inversions(short ? 20 : 200)))

  const directCount = short ? 5 : 100
  const start = performance.now()
  for (const { u, v } of colours.slice(0, directCount)) sum += directTemperature(u, v)
  const directPerSecond = (directCount * 1000) / (performance.now() - start)
  if (!Number.isFinite(sum)) throw new Error('an inversion gave no number')
  return { perSecond, directPerSecond, ratio: perSecond / directPerSecond }
}

export const bench: Bench = async ({ short }) => {
  const { perSecond, directPerSecond, ratio } = await runLocusBench(short)
  return [
    {
      name: 'chromaticity to temperature and Duv',
      value: perSecond,
      unit: 'a second',
      target: { atLeast: 1e6 },
      timed: true,
    },
    { name: 'the same by 1 nm integration and search', value: directPerSecond, unit: 'a second' },
    { name: 'ratio', value: ratio, unit: '' },
  ]
}
