import { describe, expect, test } from 'vitest'
import { LADDER_RUNGS_K, lampSetting } from '../../src/physics/lamp-ladder.ts'
import { lampTemperature } from '../../src/physics/lamps.ts'

const GENERAL = { colourTemperatureK: 2700, standardUncertaintyK: 40 }
const meter = (value: number) => ({ value, percentOfReading: 1, digits: 0, resolution: 0.001 })

describe('the dimmer setting for a rung of the ladder', () => {
  const withinLaw = LADDER_RUNGS_K.filter((rungK) => lampSetting(rungK, GENERAL).withinLaw)
  test.each(withinLaw)('comes back as %d K from volts and from watts', (rungK) => {
    const { voltsRatio, powerRatio } = lampSetting(rungK, GENERAL)
    const byVolts = lampTemperature({
      method: 'volts',
      rating: GENERAL,
      ratedVolts: 230,
      volts: meter(230 * voltsRatio),
    })
    const byWatts = lampTemperature({
      method: 'watts',
      rating: GENERAL,
      ratedWatts: 60,
      watts: meter(60 * powerRatio),
    })
    expect(byVolts.ok && byVolts.colourTemperatureK).toBeCloseTo(rungK, 6)
    expect(byWatts.ok && byWatts.colourTemperatureK).toBeCloseTo(rungK, 6)
  })

  // IES Lighting Handbook: exponents 0.42 and 1.6. 2200/2700 = 0.81481; ^(1/0.42) = 0.6141;
  // that ^1.6 = 0.4584, worked by hand with logarithms.
  test('at 2200 K is 61 % of the rated volts and 46 % of the rated watts', () => {
    const { voltsRatio, powerRatio } = lampSetting(2200, GENERAL)
    expect(voltsRatio).toBeCloseTo(0.614, 3)
    expect(powerRatio).toBeCloseTo(0.458, 3)
  })

  test('says where the rating laws end', () => {
    // The last two are left to volts and amperes together.
    expect(LADDER_RUNGS_K.filter((rungK) => !withinLaw.includes(rungK))).toEqual([1290, 1200])
    expect(lampSetting(1300, GENERAL).withinLaw).toBe(false)
    expect(lampSetting(3400, GENERAL).withinLaw).toBe(false)
  })
})
