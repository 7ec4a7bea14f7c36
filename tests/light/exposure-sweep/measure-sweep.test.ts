import { describe, expect, it } from 'vitest'
import { P3_FROM_SRGB } from '../../../src/colour/rgb-spaces.ts'
import { measureSweep } from '../../../src/light/exposure-sweep/measure-sweep.ts'
import { type Triple, transform } from '../../../src/numerics/matrix3.ts'
import {
  CHANNEL,
  codes,
  glow,
  KELVIN,
  LOSSLESS,
  measured,
  RATIO,
  ratioOf,
  sweep,
  TRUTH,
} from './bar-sweep.ts'
import { REGION, STOPS, type SweepScene, softToneOf, sweepOf, type Tone, toneOf } from './sweeps.ts'

describe('an exposure sweep gives the linear ratio', () => {
  it.each([
    ['channel', CHANNEL],
    ['ratio', RATIO],
  ] as const)('and the kind of the tone curve: %s', (kind, tone) => {
    const m = measured(sweep({ tone }))
    expect(m.curve.kind).toBe(kind)
    expect(m.kindProbability).toBeGreaterThan(0.99)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(3 * m.standardUncertaintyGreen)
    expect(m.standardUncertaintyGreen).toBeLessThan(10 * KELVIN)
    expect(codes(m)).toEqual([])
    expect(JSON.parse(JSON.stringify(m))).toEqual(m)
  })

  it('and states what is left open once: it is the curve’s, not the pixels’', () => {
    const m = measured(sweep())
    // Before a dark ground nothing is subtracted.
    expect(m.glow.covariance.flat().every((v) => v < 1e-8)).toBe(true)
    expect(m.standardUncertaintyGreen).toBeGreaterThan(0.002)
  })

  it('with plain equal codes as near as that for one kind, and far off for the other', () => {
    expect(Math.abs(measured(sweep()).byEqualCodes! - TRUTH)).toBeLessThan(0.03)
    const keeping = measured(sweep({ tone: RATIO }))
    expect(Math.abs(keeping.byEqualCodes! - TRUTH)).toBeGreaterThan(50 * KELVIN)
  })

  // A camera that stores linear codes, decoded as sRGB, has a contrast of 2.2; film is near it too.
  it.each([
    ['linear codes with a soft shoulder', softToneOf('channel', 2.2, 2)],
    ['a contrast of 1.9', softToneOf('channel', 1.9, 1)],
    [
      'a strong toe',
      {
        kind: 'channel',
        bend: (x: number) => Math.max(x, 0) ** 1.9 / (Math.max(x, 0) + 0.04) ** 0.9,
      },
    ],
  ] as const)('of a steep curve with exact exposures: %s', (_, tone) => {
    const m = measured(sweep({ tone: tone as Tone }))
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(10 * KELVIN)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(
      3 * Math.hypot(m.standardUncertaintyGreen, 0.005),
    )
  })

  it('and says that a contrast above 1.75 is unusual', () => {
    expect(codes(measured(sweep({ tone: softToneOf('channel', 2.2, 2) })))).toContain(
      'unusual contrast',
    )
  })

  it('in an sRGB file too, carried to Display P3', () => {
    const light = glow(CHANNEL, 0.05)
    const m = measured(sweep({ light, space: 'srgb' }))
    const p3 = transform(P3_FROM_SRGB, light)
    expect(Math.abs(ratioOf(m) - Math.log(p3[1] / p3[0]))).toBeLessThan(5 * KELVIN)
  })

  it('with a black level of its own in each channel', () => {
    const m = measured(sweep({ black: [0.0008, -0.0004, 0.0006] }))
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
  })

  it('with light around the glow taken off, in linear light', () => {
    const stray: Triple = [0.02, 0.015, 0.015]
    const light = glow()
    const m = measured(
      sweep({
        light: [light[0] + stray[0], light[1] + stray[1], light[2] + stray[2]],
        ground: stray,
      }),
    )
    expect(codes(m)).toContain('background')
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(2 * m.standardUncertaintyGreen)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(0.03)
  })

  it('without frames that clip, and says which', () => {
    const light = glow()
    const m = measured(sweep({ light: [2.5 * light[0], 2.5 * light[1], 2.5 * light[2]] }))
    expect(m.frames[0]!.status).toBe('clipped')
    expect(m.frames[0]!.residuals).toBeNull()
    expect(m.frames[2]!.status).toBe('used')
    expect(m.frames[2]!.residuals).toHaveLength(3)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
  })

  it('from frames that were not held quite still', () => {
    const m = measured(
      sweep({ shift: (k) => ({ dx: Math.round(5 * Math.sin(k)), dy: (k % 3) - 1 }) }),
    )
    expect(codes(m)).toContain('frames aligned')
    // Shifts are counted from one of the frames: compare differences with those of the first.
    for (const [
      k,
      {
        shift,
        codes: [red],
      },
    ] of m.frames.entries()) {
      if (red < 20) continue
      const moved = shift.dx - m.frames[0]!.shift.dx
      expect(Math.abs(moved - Math.round(5 * Math.sin(k)))).toBeLessThan(0.3)
    }
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
  })

  it('says how far down it goes, and how far it should', () => {
    const m = measured(sweep())
    expect(m.depth.givenStops).toBeCloseTo(8, 6)
    // log2(10) + 3 for a linear camera; contrast makes codes differ by more, the shoulder by less.
    expect(m.depth.neededStops).toBeGreaterThan(Math.log2(10) + 2.5)
    expect(m.depth.neededStops).toBeLessThan(Math.log2(10) * 1.12 + 3)
    const short = measured(sweep({ stops: [0, -1, -2, -3, -4, 0] }))
    expect(codes(short)).toContain('sweep short')
  })
})

describe('a glow that cools during the sweep', () => {
  /** ln R falls by `total` over the sweep, ln(G/R) by 0.17 of that: Planck at 1173 K. */
  const cooling = (total: number) => (k: number) => {
    const t = k / (STOPS.length - 1)
    return [Math.exp(-total * t), Math.exp(-1.17 * total * t), Math.exp(-1.3 * total * t)] as const
  }

  it('is corrected when the first exposure was repeated last: 3 K a frame', () => {
    // 27 K are 0.46 in ln R.
    const m = measured(sweep({ fading: cooling(0.46) }))
    expect(codes(m)).toContain('drift corrected')
    expect(Math.abs(m.drift[0] + 0.46)).toBeLessThan(0.03)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(12 * KELVIN)
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(2.5 * m.standardUncertaintyGreen)
  })

  it('would be 40 K off and more without the repetition, of which it warns', () => {
    const m = measured(sweep({ fading: cooling(0.46), stops: STOPS.slice(0, -1) }))
    expect(m.findings[0]!.code).toBe('not repeated')
    expect(m.findings[0]!.weight).toBe('warning')
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeGreaterThan(30 * KELVIN)
  })

  it('is refused when it changed too much', () => {
    expect(sweep({ fading: cooling(1.2) })).toMatchObject({
      kind: 'refused',
      reason: 'glow changed',
    })
  })
})

describe('a sweep with something left open is measured more widely', () => {
  it.each([1 / 3, -1 / 3, 1])(
    'one stated exposure is wrong by %d stops: named, not relied on',
    (stops) => {
      const m = measured(sweep({ exposureError: (k) => (k === 4 ? 2 ** stops : 1) }))
      const [open] = m.findings
      expect(open).toMatchObject({ code: 'exposure left open', weight: 'warning' })
      expect(open!.values.frame).toBe(4)
      expect(Math.abs(open!.values.lnError! - stops * Math.LN2)).toBeLessThan(0.03)
      expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(2 * m.standardUncertaintyGreen)
    },
  )

  it('no shoulder is in view and both kinds of curve fit: the interval holds both', () => {
    // A pure power: one curve for each channel, or another ratio kept.
    const light: Triple = [0.7, 0.07, 0.021]
    const m = measured(sweep({ tone: toneOf('channel', 1.06, 0.999), light }))
    expect(m.findings).toContainEqual(
      expect.objectContaining({ code: 'both kinds averaged', weight: 'warning' }),
    )
    const { channel, ratio } = m.byKind
    expect(Math.abs(channel - ratio)).toBeGreaterThan(0.08)
    for (const kind of [channel, ratio])
      expect(Math.abs(kind - ratioOf(m))).toBeLessThan(2 * m.standardUncertaintyGreen)
    // A stronger one leaves 50 K open: no figure.
    const power = toneOf('channel', 1.15, 0.999)
    expect(sweep({ tone: power, light })).toMatchObject({ reason: 'curve kind undecided' })
    // Another sweep of this camera that shows the shoulder decides it.
    const told = measureSweep(sweepOf({ tone: power, light }), REGION, {
      ...LOSSLESS,
      channelOdds: measured(sweep()).channelOdds,
    })
    expect(Math.abs(ratioOf(measured(told)) - TRUTH)).toBeLessThan(10 * KELVIN)
    expect(measured(told).standardUncertaintyGreen).toBeLessThan(0.03)
  })
})

describe('a sweep is refused with its reason', () => {
  const reason = (scene: Partial<SweepScene>) => {
    const result = sweep(scene)
    return result.kind === 'refused' ? result.reason : 'measured'
  }

  it('when there is nothing to compare', () => {
    expect(reason({ stops: [0, -1, -2] })).toBe('too few frames')
    expect(reason({ stops: [0, -0.2, -0.4, -0.6, -0.8] })).toBe('exposures do not differ')
    expect(reason({ stops: [0, -1, -2, -2.5] })).toBe('no shared codes')
    expect(reason({ light: [60, 20, 4], stops: [0, -0.5, -1, -1.5, -2, -2.5] })).toBe('clipped')
    expect(reason({ light: [0.004, 0.0004, 0], stops: [0, -1, -2, -3, -4] })).toBe('dark')
  })

  it('when frames are not of one size', () => {
    const frames = sweepOf({ tone: CHANNEL, light: glow() })
    const odd = { ...frames[3]!.image, width: 58, height: 192 }
    expect(
      measureSweep(
        frames.map((f, k) => (k === 3 ? { ...f, image: odd } : f)),
        REGION,
      ),
    ).toMatchObject({ kind: 'refused', reason: 'frames differ in size' })
  })

  it('when the camera undid the exposures by itself', () => {
    expect(reason({ exposureError: (k) => 2 ** (-STOPS[k]! - 1) })).toBe('exposures disagree')
  })

  it('when the scene moved further than alignment reaches', () => {
    expect(reason({ shift: (k) => ({ dx: k === 3 ? 34 : 0, dy: 0 }) })).toBe('scene moved')
  })

  it('when the camera maps tones by place', () => {
    // The middle of the glow is held back the more, the brighter the frame.
    const local = (x: number, y: number, level: number) => {
      const edge = Math.min(x - 28, 88 - x, y - 28, 68 - y)
      return 1 - 0.25 * level * Math.min(Math.max(edge / 20, 0), 1)
    }
    expect(reason({ local })).toBe('local tone mapping')
  })

  it('but not for its kind of curve where both say the same: a linear camera', () => {
    const linear = toneOf('channel', 1, 0.999)
    const m = measured(sweep({ tone: linear, light: [0.9, 0.09, 0.027] }))
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
  })
})
