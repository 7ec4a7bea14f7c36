import { describe, expect, test } from 'vitest'
import {
  type Evidence,
  findTrustedRange,
  judgeSamples,
  logSlopes,
  rangeByHand,
} from '../../../src/estimate/spectrum/trusted-range.ts'
import type { Distrust } from '../../../src/estimate/spectrum/types.ts'

/** One sample a nanometre, 400 to 799 nm. */
const nm = Array.from({ length: 400 }, (_, i) => 400 + i)
const all = (value: number) => nm.map(() => value)
const sound: Evidence = {
  wavelengthNm: nm,
  response: all(1),
  noise: all(0.01),
  strayShare: all(0),
  secondOrderShare: all(0),
  saturated: all(0),
}
/** The verdict on one sample whose evidence is changed. */
function verdict(part: Partial<Record<keyof Evidence, number>>, at = 600): Distrust | null {
  const evidence = { ...sound }
  for (const [name, value] of Object.entries(part))
    Object.assign(evidence, { [name]: nm.map((one) => (one === at ? value : 0)) })
  for (const name of ['response', 'noise'] as const)
    if (part[name] !== undefined)
      Object.assign(evidence, {
        [name]: nm.map((one) => (one === at ? part[name] : sound[name][0])),
      })
  return judgeSamples(evidence)[nm.indexOf(at)]!
}

describe('a sample of a response', () => {
  test('is trusted up to each limit, and not beyond', () => {
    expect(verdict({})).toBeNull()
    expect([verdict({ noise: 0.029 }), verdict({ noise: 0.031 })]).toEqual([null, 'noise'])
    expect([verdict({ strayShare: 0.049 }), verdict({ strayShare: 0.051 })]).toEqual([
      null,
      'stray light',
    ])
    expect([verdict({ secondOrderShare: 0.0095 }), verdict({ secondOrderShare: 0.0105 })]).toEqual([
      null,
      'second order',
    ])
    expect([verdict({ saturated: 0 }), verdict({ saturated: 1 })]).toEqual([null, 'saturated'])
    expect([verdict({}, 415), verdict({}, 414)]).toEqual([null, 'glass'])
  })

  test('without any response, or with a noise that is not known, says nothing', () => {
    expect(verdict({ response: 0 })).toBe('noise')
    expect(verdict({ response: -1 })).toBe('noise')
    expect(verdict({ noise: Number.NaN })).toBe('noise')
  })

  test('on an edge of more than 3 % a nanometre is not trusted, unless noise makes it so steep', () => {
    const rising = (slope: number, noise: number) => {
      const response = nm.map((at) => Math.exp(slope * (at - 600)))
      expect(logSlopes(nm, response)[200]).toBeCloseTo(slope, 9)
      return judgeSamples({ ...sound, response, noise: all(noise) })[200]
    }
    expect([rising(0.029, 0), rising(0.031, 0), rising(-0.031, 0)]).toEqual([
      null,
      'steep edge',
      'steep edge',
    ])
    expect(rising(0.031, 0.02)).toBeNull()
  })

  test('is told its weightiest fault', () => {
    expect(verdict({ saturated: 1, strayShare: 1, secondOrderShare: 1 })).toBe('saturated')
    expect(verdict({ strayShare: 1, secondOrderShare: 1 })).toBe('stray light')
  })
})

describe('the range that is trusted', () => {
  const range = (bad: (at: number) => Distrust | null) => findTrustedRange(nm, nm.map(bad))

  test('ends where the reasons begin', () => {
    expect(range((at) => (at < 450 ? 'glass' : at > 700 ? 'noise' : null))).toEqual({
      fromNm: 450,
      toNm: 700,
      shortEnd: 'glass',
      longEnd: 'noise',
      excluded: [],
    })
    expect(range(() => null)).toMatchObject({ shortEnd: 'end of data', longEnd: 'end of data' })
  })

  test('bridges up to 10 nm, and leaves them out inside', () => {
    const gap = (bad: number) => range((at) => (at >= 600 && at < 600 + bad ? 'noise' : null))
    expect(gap(9)).toMatchObject({
      fromNm: 400,
      toNm: 799,
      excluded: [{ fromNm: 600, toNm: 608, reason: 'noise' }],
    })
    // Wider than that the stretch that is wider in 1/wavelength is taken: the shorter waves.
    expect(gap(10)).toMatchObject({ fromNm: 400, toNm: 599, longEnd: 'noise', excluded: [] })
  })

  test('tells reasons that touch apart', () => {
    const found = range((at) => (at === 500 ? 'saturated' : at === 501 ? 'noise' : null))
    expect(found?.excluded).toEqual([
      { fromNm: 500, toNm: 500, reason: 'saturated' },
      { fromNm: 501, toNm: 501, reason: 'noise' },
    ])
  })

  test('is none below 30 nm or below 8 samples', () => {
    const within = (width: number) =>
      range((at) => (at >= 500 && at <= 500 + width ? null : 'noise'))
    expect([within(29), within(30)?.toNm]).toEqual([null, 530])
    const coarse = (count: number) => {
      const few = Array.from({ length: count }, (_, i) => 500 + 10 * i)
      return findTrustedRange(
        few,
        few.map(() => null),
      )
    }
    expect([coarse(7), coarse(8)?.toNm]).toEqual([null, 570])
    expect(range(() => 'noise')).toBeNull()
  })

  test('set by hand says so at the end that was moved', () => {
    const found = range((at) => (at < 450 ? 'glass' : null))!
    expect(rangeByHand(found, { fromNm: 450, toNm: 700 })).toMatchObject({
      shortEnd: 'glass',
      longEnd: 'set by hand',
    })
    expect(rangeByHand(found, { fromNm: 460, toNm: 799 })).toMatchObject({
      shortEnd: 'set by hand',
      longEnd: 'end of data',
    })
  })
})
