/**
 * A number as people write it: rounded to the place that leaves its uncertainty two digits, never with a power of
 * ten. 187.3 with ± 12 is "187", with ± 120 "190"; without an uncertainty two digits count.
 */
export function plainNumber(value: number, expandedUncertainty = 0): string {
  if (!Number.isFinite(value)) return '–'
  const size = expandedUncertainty > 0 ? expandedUncertainty : Math.abs(value)
  if (size === 0) return '0'
  const place = Math.floor(Math.log10(size)) - 1
  const rounded = Math.round(value / 10 ** place) * 10 ** place
  return rounded.toFixed(Math.max(0, -place)).replace('-', '−')
}
