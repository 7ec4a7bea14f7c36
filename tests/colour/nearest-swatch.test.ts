import Color from 'colorjs.io'
import { differenceCiede2000 } from 'culori'
import { describe, expect, test } from 'vitest'
import { xyzFromXy } from '../../src/colour/chromaticity.ts'
import { heatSwatches } from '../../src/colour/heat-swatch.ts'
import {
  chromaticityAtHueLightness,
  colourDifference,
  nearestSwatch,
} from '../../src/colour/nearest-swatch.ts'
import { planckianXy } from '../../src/colour/planckian-locus.ts'
import { WHITE_D65 } from '../../src/colour/rgb-spaces.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { expectPrinted } from '../close-to.ts'

/**
 * Sharma, Wu & Dalal 2005, Color Res. Appl. 30, 21, table 1: L, a, b of two colours and their
 * CIEDE2000 difference, four decimals.
 */
const SHARMA = `
50 2.6772 -79.7751 50 0 -82.7485 2.0425
50 3.1571 -77.2803 50 0 -82.7485 2.8615
50 2.8361 -74.0200 50 0 -82.7485 3.4412
50 -1.3802 -84.2814 50 0 -82.7485 1.0000
50 -1.1848 -84.8006 50 0 -82.7485 1.0000
50 -0.9009 -85.5211 50 0 -82.7485 1.0000
50 0 0 50 -1 2 2.3669
50 -1 2 50 0 0 2.3669
50 2.4900 -0.0010 50 -2.4900 0.0009 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0010 7.1792
50 2.4900 -0.0010 50 -2.4900 0.0011 7.2195
50 2.4900 -0.0010 50 -2.4900 0.0012 7.2195
50 -0.0010 2.4900 50 0.0009 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0010 -2.4900 4.8045
50 -0.0010 2.4900 50 0.0011 -2.4900 4.7461
50 2.5 0 50 0 -2.5 4.3065
50 2.5 0 73 25 -18 27.1492
50 2.5 0 61 -5 29 22.8977
50 2.5 0 56 -27 -3 31.9030
50 2.5 0 58 24 15 19.4535
50 2.5 0 50 3.1736 0.5854 1.0000
50 2.5 0 50 3.2972 0 1.0000
50 2.5 0 50 1.8634 0.5757 1.0000
50 2.5 0 50 3.2592 0.3350 1.0000
60.2574 -34.0099 36.2677 60.4626 -34.1751 39.4387 1.2644
63.0109 -31.0961 -5.8663 62.8187 -29.7946 -4.0864 1.2630
61.2901 3.7196 -5.3901 61.4292 2.2480 -4.9620 1.8731
35.0831 -44.1164 3.7933 35.0232 -40.0716 1.5901 1.8645
22.7233 20.0904 -46.6940 23.0331 14.9730 -42.5619 2.0373
36.4612 47.8580 18.3852 36.2715 50.5065 21.2231 1.4146
90.8027 -2.0831 1.4410 91.1528 -1.6435 0.0447 1.4441
90.9257 -0.5406 -0.9208 88.6381 -0.8985 -0.7239 1.5381
6.7747 -0.2908 -2.4247 5.8714 -0.0985 -2.2286 0.6377
2.0776 0.0795 -1.1350 0.9033 -0.0636 -0.5514 0.9082`
  .trim()
  .split('\n')
  .map((line) => line.split(' '))

type Lab = readonly [number, number, number]

/** CIELAB to XYZ relative to the D65 of the screen (ISO/CIE 11664-4). */
function xyzFromLab([l, a, b]: Lab): Triple {
  const white = xyzFromXy(WHITE_D65)
  const fy = (l + 16) / 116
  const back = (f: number) => (f > 6 / 29 ? f ** 3 : 3 * (6 / 29) ** 2 * (f - 4 / 29))
  return [white[0] * back(fy + a / 500), back(fy), white[2] * back(fy - b / 200)]
}

const pairOf = (row: readonly string[]): readonly [Lab, Lab, string] => {
  const n = row.map(Number)
  return [[n[0]!, n[1]!, n[2]!], [n[3]!, n[4]!, n[5]!], row[6]!]
}

describe('CIEDE2000', () => {
  test('the formula in use has all 34 published differences', () => {
    const difference = differenceCiede2000()
    const colour = ([l, a, b]: Lab) => ({ mode: 'lab65' as const, l, a, b })
    expect(SHARMA.length).toBe(34)
    for (const row of SHARMA) {
      const [first, second, printed] = pairOf(row)
      expectPrinted(difference(colour(first), colour(second)), printed, row.join(' '))
    }
  })

  test('from XYZ it has them too, but where the hue jumps between two digits', () => {
    for (const row of SHARMA) {
      const [first, second, printed] = pairOf(row)
      // Two pairs lie exactly opposite in hue; there the last bit of XYZ picks the side.
      const opposite = first[1] === -second[1] && first[2] === -second[2]
      if (opposite && first[1] !== 0) continue
      const got = colourDifference(xyzFromLab(first), xyzFromLab(second))
      expectPrinted(got, printed, row.join(' '))
    }
  })

  test('colorjs.io agrees on heat colours', () => {
    const swatches = heatSwatches([850, 950, 1100, 1300, 1700, 2400], {
      view: { kind: 'dark-shop' },
      screen: 'display-p3',
    })
    for (const a of swatches) {
      for (const b of swatches) {
        const other = new Color('xyz-d65', [...a.xyz]).deltaE(
          new Color('xyz-d65', [...b.xyz]),
          '2000',
        )
        // colorjs.io takes Lab relative to D50, so the two agree only roughly far apart.
        expect(Math.abs(colourDifference(a.xyz, b.xyz) - other)).toBeLessThan(0.05 * other + 0.01)
      }
    }
  })
})

describe('nearest swatch', () => {
  const temperatures = Array.from({ length: 101 }, (_, i) => 773.15 + 10 * i)
  const swatches = heatSwatches(temperatures, { view: { kind: 'hue' }, screen: 'srgb' })

  test('a glow on the locus finds its own temperature', () => {
    for (let i = 0; i < temperatures.length; i += 7) {
      const found = nearestSwatch(
        chromaticityAtHueLightness(planckianXy(temperatures[i]!)),
        swatches,
      )!
      expect(found.index).toBe(i)
      expect(found.difference).toBeLessThan(1e-3)
    }
  })

  test('a tinted glow finds the swatch that a search by the other library finds', () => {
    const { x, y } = planckianXy(1250)
    const tinted = chromaticityAtHueLightness({ x: x - 0.01, y: y + 0.008 })
    const found = nearestSwatch(tinted, swatches)!
    const there = new Color('xyz-d65', [...tinted])
    const others = swatches.map((s) => there.deltaE(new Color('xyz-d65', [...s.xyz]), '2000'))
    const best = others.indexOf(Math.min(...others))
    // The reference white differs (D50 there), which may move the foot by a swatch or two.
    expect(Math.abs(found.index - best)).toBeLessThanOrEqual(2)
    expect(found.difference).toBeGreaterThan(0)
  })

  test('an empty strip, or no colour, has no nearest', () => {
    expect(nearestSwatch([0.3, 0.2, 0.1], [])).toBeUndefined()
    expect(nearestSwatch([Number.NaN, 0.2, 0.1], swatches)).toBeUndefined()
  })
})
