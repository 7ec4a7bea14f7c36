import { describe, expect, test } from 'vitest'
import { MOST_SAMPLES } from '../../../src/estimate/recording/estimate-sampler.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import type { Json } from '../../../src/log/schema/types.ts'
import { storedGlow } from '../../../src/session/log/stored-glow.ts'
import { detailsOf, storedDetails } from '../../../src/session/recording/recording-details.ts'
import { reading, salt, seen } from '../../estimate/inputs.ts'

const INPUT = reading(seen(1200))
const kept = (change: Partial<GlowInput>) =>
  storedGlow(JSON.parse(JSON.stringify({ ...INPUT, ...change })) as Json) !== null
const red = (level: number): Partial<GlowInput> => ({
  glow: { ...INPUT.glow, mean: [level, 0, 0] },
})
const many = <Of>(count: number, of: Of): Of[] => new Array<Of>(count).fill(of)

describe('the inputs of a reading come back from the log', () => {
  test('as they were', () => {
    expect(storedGlow(JSON.parse(JSON.stringify(INPUT)) as Json)).toEqual(INPUT)
  })

  // Each on both sides: what is computed again, and what is not.
  test.each<readonly [string, Partial<GlowInput>, Partial<GlowInput>]>([
    [
      'with a thousand known heats',
      { references: many(1000, salt()) },
      { references: many(1001, salt()) },
    ],
    ['with a name that can be shown', { cameraId: 'c'.repeat(400) }, { cameraId: 'c'.repeat(401) }],
    [
      'with a window that passes all infrared',
      { window: { id: 'w', lnGreenOverRed: 0, standardUncertainty: 0.01, infrared: 1 } },
      { window: { id: 'w', lnGreenOverRed: 0, standardUncertainty: 0.01, infrared: 1.05 } },
    ],
    [
      'with a window that passes none',
      { window: { id: 'w', lnGreenOverRed: 0, standardUncertainty: 0.01, infrared: 0 } },
      { window: { id: 'w', lnGreenOverRed: 0, standardUncertainty: 0.01, infrared: -0.05 } },
    ],
    ['with red light to divide by', red(1.05e-12), red(0.95e-12)],
  ])('%s', (_, inside, outside) => {
    expect([kept(inside), kept(outside)]).toEqual([true, false])
  })
})

describe('what a recording rests on comes back from the log', () => {
  const look = { seconds: 1, lnRatio: -2, temperatureK: 1200, input: INPUT }
  const set = { seconds: 1, readK: 1190, temperatureK: 1200, standardUncertaintyK: 5, name: 'salt' }
  const back = (looks: number, rateShare: number, heats: number, name = 'salt') =>
    storedDetails(
      detailsOf(many(looks, look), { lens: 'wide' }, rateShare, many(heats, { ...set, name })),
    )

  test('as it was; a look that is none is left out', () => {
    expect(back(2, 0.1, 1)).toMatchObject({
      looks: [{ seconds: 1 }, { seconds: 1 }],
      facts: { lens: 'wide' },
      rateShare: 0.1,
      heats: [{ name: 'salt' }],
    })
    const damaged = detailsOf([look, { ...look, input: null as never }], null, 0.1)
    expect(storedDetails(damaged).looks).toHaveLength(1)
  })

  test('only within what it can be', () => {
    const none = { looks: [], facts: null, heats: [] }
    expect(back(MOST_SAMPLES + 1, 0.1, 0).looks).toHaveLength(MOST_SAMPLES + 1)
    expect(back(MOST_SAMPLES + 2, 0.1, 0)).toMatchObject(none)
    expect(back(1, 1000, 0).rateShare).toBe(1000)
    expect(back(1, 1100, 0)).toMatchObject(none)
    expect(back(1, 0.1, 10).heats).toHaveLength(10)
    expect(back(1, 0.1, 11)).toMatchObject(none)
    expect(back(1, 0.1, 1, 'n'.repeat(200)).heats).toHaveLength(1)
    expect(back(1, 0.1, 1, 'n'.repeat(201))).toMatchObject(none)
  })
})
