import { expect, test } from 'vitest'
import { meterStandardUncertainty } from '../../src/physics/meters.ts'
import { expectPrinted } from '../close-to.ts'

test('a display of a perfect meter is known to 0.29 of its last step (JCGM 100:2008, F.2.2.1)', () => {
  const perfect = { value: 12.3, percentOfReading: 0, digits: 0 }
  expectPrinted(meterStandardUncertainty({ ...perfect, resolution: 1 }), '0.29')
  expect(meterStandardUncertainty({ ...perfect, resolution: 0 })).toBe(0)
})

test('limits of error count as rectangular: a / sqrt(3) (JCGM 100:2008, 4.3.7)', () => {
  // 1 % of 100 and two steps of 0.5: 2 in all.
  const stated = { value: 100, percentOfReading: 1, digits: 2, resolution: 0.5 }
  const steps = meterStandardUncertainty({ ...stated, percentOfReading: 0, digits: 0 })
  const limits = Math.sqrt(meterStandardUncertainty(stated) ** 2 - steps ** 2)
  expectPrinted(limits, '1.155')
})
