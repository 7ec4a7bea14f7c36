import { describe, expect, test } from 'vitest'
import { ALLOYS, narrowAlloy } from '../../src/physics/alloy.ts'
import { fixedPointTemperature } from '../../src/physics/fixed-points.ts'
import { airAt } from '../../src/physics/heat-balance/air.ts'
import { compareSupplyChange, predictChange } from '../../src/physics/heat-balance/supply-change.ts'
import { contradiction } from '../../src/physics/heat-balance/supply-power.ts'
import { supplyTemperature } from '../../src/physics/heat-balance/supply-temperature.ts'
import { type LampInput, lampTemperature } from '../../src/physics/lamps.ts'
import { compareWithLimits } from '../../src/physics/limits.ts'
import { materialById } from '../../src/physics/materials.ts'
import { thermocoupleLimits } from '../../src/physics/thermocouple.ts'
import { kelvinFromCelsius } from '../../src/physics/units.ts'
import { meter, nickelChromium, sure } from './heat-balance/supply-inputs.ts'

/** Each limit of what is taken, from both sides. */
describe('thermocouples', () => {
  // IEC 60584-1:2013, table of tolerances, from memory: type, class, limits of error in K at a low and
  // at a high temperature in °C, and the highest temperature that has limits.
  test.each([
    ['K', 1, [200, 1.5], [1000, 4], 1000],
    ['K', 2, [200, 2.5], [1200, 9], 1200],
    ['N', 1, [200, 1.5], [1000, 4], 1000],
    ['N', 2, [200, 2.5], [1200, 9], 1200],
    ['J', 1, [200, 1.5], [750, 3], 750],
    ['J', 2, [200, 2.5], [750, 5.625], 750],
    ['R', 2, [500, 1.5], [1600, 4], 1600],
    ['S', 2, [500, 1.5], [1600, 4], 1600],
    ['B', 2, [500, 1.5], [1700, 4.25], 1700],
  ] as const)(
    'of type %s, class %i have the limits of IEC 60584-1 up to its end',
    (type, its, low, high, end) => {
      const at = (celsius: number) => thermocoupleLimits(type, its, kelvinFromCelsius(celsius))
      for (const [celsius, limit] of [low, high]) expect(at(celsius)).toBeCloseTo(limit, 9)
      expect(at(end + 1)).toBeUndefined()
    },
  )
})

describe('known heats by value', () => {
  test('glow, and a thermocouple bears them: 700 to 2100 K', () => {
    const taken = (valueK: number) =>
      fixedPointTemperature({ id: 'thermocouple', valueK, limitsOfErrorK: 5 }).ok
    expect([690, 710, 2090, 2110].map(taken)).toEqual([false, true, true, false])
  })
})

describe('a lamp', () => {
  const rating = { colourTemperatureK: 2700, standardUncertaintyK: 40 }
  const says = (lamp: LampInput) => {
    const found = lampTemperature(lamp)
    return found.ok ? 'ok' : found.code
  }

  test('follows the rating laws from a fifth of its volts to 1.2 times them', () => {
    const at = (share: number) =>
      says({ method: 'volts', rating, ratedVolts: 100, volts: meter(100 * share) })
    expect([0.19, 0.21, 1.19, 1.21].map(at)).toEqual([
      'rating ratio out of range',
      'ok',
      'ok',
      'rating ratio out of range',
    ])
  })

  test('follows them over the same range of power: those shares to the power 1.6 (IES)', () => {
    const at = (share: number) =>
      says({ method: 'watts', rating, ratedWatts: 100, watts: meter(100 * share ** 1.6) })
    expect([0.195, 0.215, 1.19, 1.21].map(at)).toEqual([
      'rating ratio out of range',
      'ok',
      'ok',
      'rating ratio out of range',
    ])
  })

  test('is cold in any room, not on ice nor beside the oven: -20 to 50 °C', () => {
    const at = (celsius: number) =>
      says({
        method: 'resistance',
        volts: meter(230),
        with: { amperes: meter(0.26) },
        coldOhms: meter(62),
        roomTemperatureK: kelvinFromCelsius(celsius),
      })
    expect([-30, -20, 50, 60].map(at)).toEqual(['not cold', 'ok', 'ok', 'not cold'])
  })

  test('glows, and has not burnt out: 1000 to 3450 K', () => {
    const at = (colourTemperatureK: number) =>
      says({ method: 'rated', rating: { colourTemperatureK, standardUncertaintyK: 40 } })
    expect([980, 1020, 3430, 3470].map(at)).toEqual([
      'filament too cold',
      'ok',
      'ok',
      'filament too hot',
    ])
  })
})

describe('two standard uncertainties', () => {
  test('above melting are impossible, a little less is not sure (GUM, k = 2)', () => {
    const copper = materialById('copper-clean')!
    const above = (times: number) =>
      compareWithLimits(copper, copper.melting!.liquidusK + times * 10, 10).verdict
    expect([1.9, 2.1].map(above)).toEqual(['above melting', 'impossible'])
  })

  test('of resistance leave an alloy, a little more does not', () => {
    const listed = ALLOYS.find(({ id }) => id === 'nickel-chromium-80-20')!
    const own = 0.1
    const left = (times: number) => {
      const microOhmM = listed.microOhmM + times * Math.hypot(own, listed.spread)
      // A square metre of section over a metre, so that ohms are ohm m.
      const answer = narrowAlloy({
        resistance: {
          ohms: { value: 1e-6 * microOhmM, standardUncertainty: 1e-6 * own },
          lengthM: sure(1),
          section: { widthM: sure(1), thicknessM: sure(1) },
        },
      })
      return answer.left.some(({ alloy }) => alloy === listed)
    }
    expect([-2.1, -1.9, 1.9, 2.1].map(left)).toEqual([false, true, true, false])
  })

  const readings = (secondK: number) =>
    [
      { temperatureK: 1100, ownUncertaintyK: 6, supply: sure(100) },
      { temperatureK: secondK, ownUncertaintyK: 8, supply: sure(140) },
    ] as const
  const law = { kind: 'heater', roomK: 293, convectionShare: sure(0.2) } as const

  test('apart a reading does not follow its supply; nearer it agrees', () => {
    const expected = predictChange(readings(0)[0], sure(140), 'watts', law)
    const u = Math.hypot(expected.standardUncertainty, 8)
    const verdict = (times: number) =>
      compareSupplyChange(readings(expected.value + times * u), 'watts', law).verdict
    expect([-2.1, -1.9, 1.9, 2.1].map(verdict)).toEqual([
      'changes too little',
      'agrees',
      'agrees',
      'changes too much',
    ])
  })

  test('of change have to be expected before anything is told', () => {
    const verdict = (times: number) => {
      // Watts that make expect so much of what a difference is known by.
      const at = (watts: number) => {
        const second = { ...readings(0)[1], supply: sure(watts) }
        const { value } = predictChange(readings(0)[0], second.supply, 'watts', law)
        return compareSupplyChange(
          [readings(0)[0], { ...second, temperatureK: value }],
          'watts',
          law,
        )
      }
      let [less, more] = [100, 200]
      for (let i = 0; i < 40; i++) {
        const middle = (less + more) / 2
        const [step] = at(middle).steps
        if (step!.predictedChangeK > times * step!.standardUncertaintyK) more = middle
        else less = middle
      }
      return at(more).verdict
    }
    expect([1.9, 2.1].map(verdict)).toEqual(['too close to tell', 'agrees'])
  })

  test('a heater on far other volts is known to 3 % of its power: its alloy changes resistance (common practice)', () => {
    const { standardUncertainty } = predictChange(
      { temperatureK: 1100, ownUncertaintyK: 0, supply: sure(100) },
      sure(1000),
      'volts',
      { ...law, roomK: 1, convectionShare: sure(0) },
    )
    // T ~ P^(1/4): a quarter of it in temperature, at 1100 K times the root of the volts' ratio.
    expect(standardUncertainty / (1100 * 10 ** 0.5)).toBeCloseTo(0.03 / 4, 3)
  })
})

describe('a supply', () => {
  test('contradicts itself where its two powers lie three standard uncertainties apart', () => {
    const at = (times: number) =>
      contradiction({
        // 1 % of 100 W as a rectangle.
        watts: meter(100 + (times * 100 * 0.01) / Math.sqrt(3), 1),
        volts: meter(10),
        amperes: meter(10),
      })
    expect([-3.1, -2.9, 2.9, 3.2].map((times) => at(times) !== null)).toEqual([
      true,
      false,
      false,
      true,
    ])
  })

  const wire = {
    object: { shape: 'wire', lengthM: sure(1), diameterM: sure(8e-4) },
    surface: nickelChromium,
    room: { value: 293, standardUncertainty: 2 },
  } as const
  const run = (
    watts: number,
    surface: typeof nickelChromium | ReturnType<typeof sure> = nickelChromium,
  ) => supplyTemperature({ ...wire, surface, supply: { watts: meter(watts) } })

  test('is refused where nothing would stay solid: no heating material does above 4500 K', () => {
    /** Watts that a black wire of 1 mm² radiates: sigma A T^4. */
    const radiated = (kelvin: number) => 5.670374e-8 * Math.PI * 8e-4 * kelvin ** 4
    const answer = run(radiated(4400), sure(1))
    expect(answer).toMatchObject({ ok: true })
    expect(answer.ok && answer.temperatureK).toBeGreaterThan(4300)
    expect(run(radiated(4700), sure(1))).toMatchObject({ ok: false, code: 'power too high' })
  })

  test('says where the air between wire and room is hotter than its table, 1500 K', () => {
    // Film: the mean of wire and room.
    const film = (watts: number) => {
      const found = run(watts)
      if (!found.ok) throw new Error(found.code)
      return [(found.temperatureK + 293) / 2, found.filmBeyondTable] as const
    }
    const [below, above] = [film(5900), film(7700)]
    expect(below[0]).toBeGreaterThan(1400)
    expect(below[0]).toBeLessThan(1500)
    expect(below[1]).toBe(false)
    expect(above[0]).toBeGreaterThan(1500)
    expect(above[0]).toBeLessThan(1560)
    expect(above[1]).toBe(true)
  })

  test('may glow with all of its power, and be covered by nearly all of its shield', () => {
    const supply = { watts: meter(100) }
    const glowing = (share: number) =>
      supplyTemperature({ ...wire, supply, glowingShare: sure(share) }).ok
    expect([1, 1.02].map(glowing)).toEqual([true, false])
    const covered = (share: number) =>
      supplyTemperature({ ...wire, supply, shield: { share: sure(share) } }).ok
    expect([0.97, 1].map(covered)).toEqual([true, false])
  })

  test('takes a surface as black as a black body, and none blacker', () => {
    expect(run(100, sure(1))).toMatchObject({ ok: true })
    expect(run(100, sure(1.02))).toMatchObject({ ok: false, code: 'share out of range' })
  })

  test('has air that conducts no better beyond its table, 200 to 1500 K, and all the way up to it', () => {
    const conductivity = (kelvin: number) => airAt(kelvin).conductivity
    expect(conductivity(190)).toBe(conductivity(200))
    expect(conductivity(215)).toBeGreaterThan(conductivity(200))
    expect(conductivity(1450)).toBeLessThan(conductivity(1500))
    expect(conductivity(1600)).toBe(conductivity(1500))
  })
})
