import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { plotSvg } from '../../../src/ui/plots/plot-svg.ts'
import type { PlotAxis, PlotData } from '../../../src/ui/plots/plot-types.ts'
import { shortNumber, ticksOf } from '../../../src/ui/plots/ticks.ts'
import { isWhole, movedPlot, wholePlot, zoomed } from '../../../src/ui/plots/view.ts'

const LINEAR: PlotAxis = { label: 'Wavelength, nm' }
const LOG: PlotAxis = { label: 'Radiance', scale: 'log' }
const DATA: PlotData = {
  title: 'Glow <of> a "bar" & more',
  x: LINEAR,
  y: { label: 'Signal' },
  series: [
    { label: 'line', kind: 'line', x: [400, 500, 600], y: [1, null, 3] },
    {
      label: 'points',
      kind: 'points',
      x: [450, 450],
      y: [2, 5],
      band: { low: [1, 4], high: [3, 7] },
    },
  ],
  spans: [{ from: 300, to: 420, label: 'noise' }],
}

describe('ticks', () => {
  it('stand at round values', () => {
    expect(ticksOf(LINEAR, [340, 1020], 4).map(({ text }) => text)).toEqual([
      '400',
      '600',
      '800',
      '1000',
    ])
    expect(ticksOf(LINEAR, [-0.03, 0.021], 5).map(({ text }) => text)).toEqual([
      '−0.02',
      '0.00',
      '0.02',
    ])
    const named = ticksOf(LOG, [1e-4, 1], 4).filter(({ text }) => text !== '')
    expect(named.map(({ text }) => text)).toEqual(['10⁻⁴', '0.001', '0.01', '0.1', '1'])
  })

  it('lie inside the range and are about as many as asked for, whatever the range', () => {
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })
    fc.assert(
      fc.property(value, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (min, width) => {
        fc.pre(width > 1e-6 * Math.abs(min))
        const ticks = ticksOf(LINEAR, [min, min + width], 5)
        expect(ticks.length).toBeGreaterThanOrEqual(1)
        expect(ticks.length).toBeLessThanOrEqual(7)
        for (const tick of ticks) {
          expect(tick.value).toBeGreaterThanOrEqual(min - 1e-6 * width)
          expect(tick.value).toBeLessThanOrEqual(min + width * (1 + 1e-6))
        }
      }),
    )
  })

  it('are none for a range of nothing', () => {
    expect(ticksOf(LINEAR, [1, 1], 5)).toEqual([])
    expect(ticksOf(LINEAR, [Number.NaN, 1], 5)).toEqual([])
  })

  it('write numbers short', () => {
    expect(shortNumber(1234.567)).toBe('1234.57')
    expect(shortNumber(-0.01234567)).toBe('−0.01235')
    expect(shortNumber(1e-4)).toBe('10⁻⁴')
    expect(shortNumber(-2.5e7)).toBe('−2.5·10⁷')
    expect(shortNumber(0)).toBe('0')
  })
})

describe('the view', () => {
  it('shows all data with their bars, and gaps do no harm', () => {
    const view = wholePlot(DATA)
    expect(view.x).toEqual([400, 600])
    expect(view.y[0]).toBeLessThan(1)
    expect(view.y[0]).toBeGreaterThan(0)
    expect(view.y[1]).toBeGreaterThan(7)
    expect(view.y[1]).toBeLessThan(8)
  })

  it('is finite for nothing, for one value and for values that a log scale cannot show', () => {
    for (const y of [[], [null], [5], [0, -1], [0, 0]]) {
      for (const scale of ['linear', 'log'] as const) {
        const x = y.map((_, i) => i)
        const { x: across, y: up } = wholePlot({
          ...DATA,
          y: { label: '', scale },
          series: [{ label: '', kind: 'line', x, y }],
        })
        for (const [min, max] of [across, up]) {
          expect(Number.isFinite(min) && Number.isFinite(max) && min < max).toBe(true)
          if (scale === 'log') expect(up[0]).toBeGreaterThan(0)
        }
      }
    }
  })

  it('keeps the place under the fingers where it is, and never leaves the whole', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true })
    const factor = fc.double({ min: 1, max: 20, noNaN: true })
    fc.assert(
      fc.property(share, factor, fc.constantFrom(LINEAR, LOG), (at, by, axis) => {
        const whole = [1, 1000] as const
        const scale = (value: number) => (axis.scale === 'log' ? Math.log10(value) : value)
        const [a, b] = zoomed(axis, whole, whole, at, by)
        const before = scale(1) + at * (scale(1000) - scale(1))
        const after = scale(a) + at * (scale(b) - scale(a))
        expect(Math.abs(after - before)).toBeLessThan(1e-6 * Math.abs(scale(1000)))
        expect(a).toBeGreaterThanOrEqual(1 - 1e-9)
        expect(b).toBeLessThanOrEqual(1000 * (1 + 1e-9))
        const [c, d] = movedPlot(axis, [a, b], whole, 3)
        expect(Math.abs(scale(d) - scale(c) - (scale(b) - scale(a)))).toBeLessThan(1e-6)
        expect(d).toBeLessThanOrEqual(1000 * (1 + 1e-9))
      }),
    )
  })

  it('is whole again when zoomed out', () => {
    const whole = wholePlot(DATA)
    const x = zoomed(DATA.x, zoomed(DATA.x, whole.x, whole.x, 0.3, 7), whole.x, 0.9, 1 / 8)
    expect(isWhole({ x, y: whole.y }, whole)).toBe(true)
  })
})

describe('the exported picture', () => {
  const svg = plotSvg(DATA, wholePlot(DATA), '2024-05-01')

  it('is well-formed, with the text escaped', () => {
    // Every tag opened is closed, in order.
    const open: string[] = []
    for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-zA-Z]+)[^>]*?(\/?)>/g)) {
      if (close) expect(open.pop()).toBe(name)
      else if (!self) open.push(name!)
    }
    expect(open).toEqual([])
    expect(svg).toContain('Glow &lt;of&gt; a &quot;bar&quot; &amp; more')
    expect(svg).not.toContain('NaN')
  })

  it('holds every point, its bars, the span and the gap', () => {
    expect(svg.match(/<circle[^>]*r="4"\/>/g)).toHaveLength(2)
    expect(svg).toContain('noise')
    // The line is broken where a value is missing: two moves and no line between them.
    expect(svg).toMatch(/<path d="M[\d.]+ [\d.]+M[\d.]+ [\d.]+" fill="none"/)
  })

  it('puts the middle of the range in the middle of the axes', () => {
    const only: PlotData = {
      ...DATA,
      y: { label: '', range: [0, 10] },
      series: [{ label: '', kind: 'points', x: [500], y: [5] }],
    }
    const drawn = plotSvg(only, wholePlot({ ...only, x: { label: '', range: [400, 600] } }))
    // Axes from 90 to 876 and from 500 to 54.
    expect(drawn).toContain('<circle cx="483.0" cy="277.0"')
  })
})
