import { expect, test } from 'vitest'
import { windowById } from '../../src/physics/windows.ts'

test.each([
  // Transmittance at 550 and 650 nm from memory of data sheets: clear float glass of 4 mm, phosphate
  // heat-absorbing glass of 2 to 3 mm; fused silica has no colour (Malitson 1965).
  ['glass', 0.9, 0.885],
  ['heat-absorbing', 0.88, 0.77],
  ['quartz', 0.932, 0.932],
])('%s takes from red what its data sheet says, within its own uncertainty', (id, green, red) => {
  const { lnGreenOverRed, standardUncertainty } = windowById(id)!
  expect(Math.abs(lnGreenOverRed - Math.log(green / red))).toBeLessThan(standardUncertainty)
})
