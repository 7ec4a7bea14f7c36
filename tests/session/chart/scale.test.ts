import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  heightOf,
  panSpan,
  spreadLabels,
  temperatureAt,
  ticks,
  WHOLE,
  WORKSHOP,
  zoomSpan,
} from '../../../src/session/chart/scale.ts'

const spans = fc
  .tuple(
    fc.double({ min: 0.2, max: 30, noNaN: true }),
    fc.double({ min: 800, max: 2900, noNaN: true }),
  )
  .map(([factor, about]) => zoomSpan(WHOLE, factor, about))

describe('the scale of the chart', () => {
  it('has an inverse', () => {
    fc.assert(
      fc.property(spans, fc.double({ min: 0, max: 500, noNaN: true }), (span, y) => {
        expect(heightOf(temperatureAt(y, span, 500), span, 500)).toBeCloseTo(y, 6)
      }),
    )
  })

  it('never leaves the whole chart, however it is zoomed and panned', () => {
    fc.assert(
      fc.property(spans, fc.double({ min: -5000, max: 5000, noNaN: true }), (span, by) => {
        const { lowK, highK } = panSpan(span, by)
        expect(lowK).toBeGreaterThanOrEqual(WHOLE.lowK - 1e-9)
        expect(highK).toBeLessThanOrEqual(WHOLE.highK + 1e-9)
        expect(highK).toBeGreaterThan(lowK)
      }),
    )
  })

  it('zooms about a temperature, which stays where it is, and pans by kelvin up to its ends', () => {
    const closer = zoomSpan(WORKSHOP, 4, 1200)
    expect(closer.highK - closer.lowK).toBeCloseTo(250, 9)
    expect(heightOf(1200, closer, 500)).toBeCloseTo(heightOf(1200, WORKSHOP, 500), 9)
    const back = zoomSpan(closer, 1 / 4, 1200)
    expect([back.lowK, back.highK]).toEqual([
      expect.closeTo(WORKSHOP.lowK, 9),
      expect.closeTo(WORKSHOP.highK, 9),
    ])
    expect(zoomSpan(WORKSHOP, 0.01, 1200)).toEqual(WHOLE)
    const moved = panSpan(closer, 100)
    expect([moved.lowK - closer.lowK, moved.highK - closer.highK]).toEqual([
      expect.closeTo(100, 9),
      expect.closeTo(100, 9),
    ])
    expect(panSpan(closer, 1e6).highK).toBeCloseTo(WHOLE.highK, 9)
    expect(panSpan(closer, -1e6).lowK).toBe(WHOLE.lowK)
    // Hot is up.
    expect([heightOf(WHOLE.highK, WHOLE, 500), heightOf(WHOLE.lowK, WHOLE, 500)]).toEqual([0, 500])
  })

  it('marks round values of the unit, far enough apart to be read', () => {
    const marks = ticks(WORKSHOP, 'C', 500, 34)
    expect(marks.map(({ text }) => text)).toEqual([
      '500',
      '600',
      '700',
      '800',
      '900',
      '1000',
      '1100',
      '1200',
      '1300',
      '1400',
      '1500',
    ])
    for (const unit of ['C', 'F', 'K'] as const) {
      const places = ticks(WHOLE, unit, 500, 34).map(({ temperatureK }) =>
        heightOf(temperatureK, WHOLE, 500),
      )
      for (const [i, place] of places.entries()) {
        if (i > 0) expect(Math.abs(place - (places[i - 1] as number))).toBeGreaterThanOrEqual(34)
      }
    }
  })
})

describe('labels', () => {
  it('keep their order and their distance, and move no more than they must', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 500, noNaN: true }), { maxLength: 20 }),
        (wanted) => {
          const sorted = [...wanted].sort((a, b) => a - b)
          const places = spreadLabels(sorted, 15, 500)
          expect(places.length).toBe(sorted.length)
          for (let i = 1; i < places.length; i++) {
            expect((places[i] as number) - (places[i - 1] as number)).toBeGreaterThanOrEqual(
              15 - 1e-9,
            )
          }
          for (const place of places) {
            expect(place).toBeGreaterThanOrEqual(-1e-9)
            expect(place).toBeLessThanOrEqual(500 + 1e-9)
          }
        },
      ),
    )
  })

  it('stay where they are when nothing is in their way', () => {
    expect(spreadLabels([10, 100, 300], 15, 500)).toEqual([10, 100, 300])
  })

  it('share the way when two lie on each other', () => {
    expect(spreadLabels([100, 100], 20, 500)).toEqual([90, 110])
  })

  it('share the way among all whom a pair that was moved comes to touch', () => {
    // Third and second meet first; their middle then lies too near to the first one.
    const places = spreadLabels([103.5, 114, 122], 10, 500)
    expect(places[1]! - places[0]!).toBeCloseTo(10, 9)
    expect(places[2]! - places[1]!).toBeCloseTo(10, 9)
    expect(places[1]).toBeCloseTo((103.5 + 114 + 122) / 3, 9)
  })
})

it('marks ones, twos and fives of a power of ten, however near it is looked at', () => {
  for (let widthK = 60; widthK < 2200; widthK *= 1.1) {
    const texts = ticks({ lowK: 773.15, highK: 773.15 + widthK }, 'C', 500, 34).map(({ text }) =>
      Number(text),
    )
    expect(texts.length).toBeGreaterThan(1)
    for (const [i, value] of texts.entries()) {
      const step = i === 0 ? texts[1]! - value : value - texts[i - 1]!
      expect([1, 2, 5]).toContain(Number(step.toExponential().split('e')[0]))
      // Round values of that step, not any that are so far apart.
      expect(value % step).toBe(0)
    }
  }
})

it('comes no nearer than can be read, and shows the glow of all work', () => {
  const nearest = zoomSpan(WORKSHOP, 1e9, 1200)
  expect(ticks(nearest, 'C', 500, 34).length).toBeGreaterThan(3)
  // 500 °C: before a dark-adapted eye sees a glow (Draper 1847 says 525 °C); tungsten filaments reach 3000 K.
  expect(WHOLE.lowK).toBeLessThan(773.2)
  expect(WHOLE.highK).toBeGreaterThanOrEqual(3000)
})
