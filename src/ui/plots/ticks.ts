import type { PlotAxis, Range, Tick } from './plot-types.ts'
import { timeText, timeTicks } from './time-ticks.ts'

/** Ticks of an axis at round values inside a range, about as many as there is room for. */
export function ticksOf(axis: PlotAxis, [min, max]: Range, room: number): Tick[] {
  if (!(max > min) || !Number.isFinite(max - min)) return []
  const wanted = Math.max(2, Math.floor(room))
  if (axis.scale === 'time') return timeTicks([min, max], wanted)
  if (axis.scale === 'log' && max > 4 * min) return logTicks(axis, min, max, wanted)
  const { step, decimals } = roundStep((max - min) / wanted)
  const first = Math.ceil(min / step - 1e-9)
  const last = Math.floor(max / step + 1e-9)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const value = (first + i) * step
    return { value, text: axis.format?.(value) ?? written(value, decimals) }
  })
}

/** The smallest of 1, 2, 5 times a power of ten that is not below a step. */
function roundStep(least: number): { step: number; decimals: number } {
  const power = Math.floor(Math.log10(least))
  const lead = least / 10 ** power
  const digit = lead <= 1.0000001 ? 1 : lead <= 2 ? 2 : lead <= 5 ? 5 : 10
  const exponent = digit === 10 ? power + 1 : power
  return { step: digit * 10 ** power, decimals: Math.max(0, -exponent) }
}

/** Powers of ten up to which a logarithmic scale shows divisions between them. */
const MAX_DIVIDED = 4

function logTicks(axis: PlotAxis, min: number, max: number, wanted: number): Tick[] {
  const from = Math.floor(Math.log10(min))
  const to = Math.ceil(Math.log10(max))
  const every = Math.max(1, Math.ceil((to - from) / wanted))
  const digits = to - from <= 2 ? [1, 2, 5] : [1]
  // Over many powers of ten the small divisions would be a grey wall.
  const divided = to - from <= MAX_DIVIDED
  const ticks: Tick[] = []
  for (let power = from; power <= to; power++) {
    for (let digit = 1; digit < 10; digit++) {
      const value = digit * 10 ** power
      if (value < min * (1 - 1e-9) || value > max * (1 + 1e-9)) continue
      if (digit > 1 && !divided) continue
      const named = digits.includes(digit) && (power - from) % every === 0
      ticks.push({ value, text: named ? (axis.format?.(value) ?? shortNumber(value)) : '' })
    }
  }
  return ticks
}

/** With a true minus; very large and very small ones as powers of ten. */
function written(value: number, decimals: number): string {
  const rounded = Math.abs(value) < 1e-12 ? 0 : value
  if (decimals > 4 || Math.abs(rounded) >= 1e6) return shortNumber(rounded)
  return rounded.toFixed(decimals).replace('-', '−')
}

/** One value of an axis, for readouts and tables; a dash where there is none. */
export function valueText(axis: PlotAxis, value: number): string {
  if (!Number.isFinite(value)) return '–'
  return axis.format?.(value) ?? (axis.scale === 'time' ? timeText(value) : shortNumber(value))
}

/** About four digits: for readouts and tables. */
export function shortNumber(value: number): string {
  const size = Math.abs(value)
  const plain = size === 0 || (size >= 1e-3 && size < 1e6)
  if (plain) return String(Number(value.toPrecision(size >= 1000 ? 6 : 4))).replace('-', '−')
  const [mantissa, exponent] = value.toExponential(2).split('e')
  const lead = String(Number(mantissa)).replace('-', '−')
  const power = `10${superscript(Number(exponent))}`
  return lead === '1' ? power : `${lead}·${power}`
}

function superscript(exponent: number): string {
  const digits = '⁰¹²³⁴⁵⁶⁷⁸⁹'
  const text = [...String(Math.abs(exponent))].map((digit) => digits[Number(digit)]).join('')
  return exponent < 0 ? `⁻${text}` : text
}
