import { describe, expect, it } from 'vitest'
import { xyzFromXy } from '../../src/colour/chromaticity.ts'
import { planckianXy } from '../../src/colour/planckian-locus.ts'
import { linearP3FromXyz } from '../../src/colour/rgb-spaces.ts'
import { type CardLightId, lightColour } from '../../src/light/card-light.ts'
import { balanceFromGrey } from '../../src/light/grey-reference.ts'
import { expectPrinted } from '../close-to.ts'
import { DAYLIGHT, exact, LAMP } from './cards.ts'

describe('the light on the card', () => {
  it('has the chromaticities of CIE 15:2004, table T.3, for daylight', () => {
    const printed = {
      D65: ['0.31272', '0.32903'],
      D55: ['0.33243', '0.34744'],
      D50: ['0.34567', '0.35851'],
    }
    for (const [illuminant, [x, y]] of Object.entries(printed)) {
      const { xy } = lightColour({ kind: 'daylight', illuminant: illuminant as 'D65' })
      expectPrinted(xy.x, x!, illuminant)
      expectPrinted(xy.y, y!, illuminant)
    }
  })

  it('lies on the Planckian locus for a filament: 0.4770, 0.4137 at 2500 K (Wyszecki & Stiles)', () => {
    const { xy } = lightColour({ ...LAMP, colourTemperatureK: 2500 })
    expectPrinted(xy.x, '0.4770')
    expectPrinted(xy.y, '0.4137')
  })

  it('spreads along its locus as far as the stated kelvins reach', () => {
    for (const [temperatureK, u] of [
      [2700, 50],
      [2000, 30],
      [3200, 100],
    ] as const) {
      const light = lightColour({
        kind: 'filament',
        colourTemperatureK: temperatureK,
        standardUncertaintyK: u,
      })
      const to = planckianXy(temperatureK + u)
      const from = planckianXy(temperatureK - u)
      const sd = Math.hypot(to.x - from.x, to.y - from.y) / 2
      const total = Math.sqrt(light.covariance[0][0] + light.covariance[1][1])
      // The spread across the locus, 0.001 in u', v', is added: at most 0.003 in x, y.
      expect(total).toBeGreaterThan(0.97 * sd)
      expect(total).toBeLessThan(Math.hypot(1.02 * sd, 0.003))
    }
  })

  it('is far less certain for shop lights than for daylight or a filament, least when not stated', () => {
    // A camera that shows each light as it is, so that no balance has to be undone.
    const green = (light: CardLightId) => {
      const card = exact(linearP3FromXyz(xyzFromXy(lightColour(light).xy)))
      return Math.sqrt(balanceFromGrey({ card, light }).covariance[1][1])
    }
    const stated = green({ kind: 'led', colourTemperatureK: 4000 })
    const unstated = green({ kind: 'led', colourTemperatureK: null })
    expect(stated).toBeGreaterThan(1.5 * green(DAYLIGHT))
    expect(stated).toBeGreaterThan(2.5 * green(LAMP))
    expect(unstated).toBeGreaterThan(stated)
    expect(green({ kind: 'fluorescent', colourTemperatureK: null })).toBeGreaterThan(stated)
    // 0.08 of the spectrum alone is 28 K at 1173 K (ln(G/R) rises 0.0029 a kelvin there).
    expect(stated).toBeGreaterThan(0.08)
  })

  it('measured has a temperature as unsure as its chromaticity makes it', () => {
    // McCamy 1992, as printed: 449 n^3 + 3525 n^2 + 6823.3 n + 5520.33, n = (x - 0.332) / (0.1858 - y).
    const mccamy = (x: number, y: number) => {
      const n = (x - 0.332) / (0.1858 - y)
      return ((449 * n + 3525) * n + 6823.3) * n + 5520.33
    }
    const [x, y, u] = [0.3127, 0.329, 0.003]
    const light = lightColour({ kind: 'measured', x, y, standardUncertainty: u })
    const step = 1e-5
    const slope = Math.hypot(
      (mccamy(x + step, y) - mccamy(x, y)) / step,
      (mccamy(x, y + step) - mccamy(x, y)) / step,
    )
    expect(light.colourTemperatureK / mccamy(x, y)).toBeCloseTo(1, 2)
    expect(light.standardUncertaintyK / (slope * u)).toBeGreaterThan(0.9)
    expect(light.standardUncertaintyK / (slope * u)).toBeLessThan(1.1)
  })

  it('measured far off the locus keeps its chromaticity and finite kelvins', () => {
    const light = lightColour({ kind: 'measured', x: 0.2, y: 0.6, standardUncertainty: 0.005 })
    expect(light.xy).toEqual({ x: 0.2, y: 0.6 })
    expect(Number.isFinite(light.colourTemperatureK)).toBe(true)
    expect(light.standardUncertaintyK).toBeGreaterThan(2000)
  })
})
