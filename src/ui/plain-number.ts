/** Ten times this JavaScript itself writes with a power of ten. */
const LARGEST = 1e20
/** Smaller parts are nothing that anybody measures. */
const SMALLEST_PLACE = -12

/**
 * A number as people write it: rounded to the place of its uncertainty, which keeps two digits below 30 (a step of 1
 * in 1 would lose too much) and one from there on; never with a power of ten. 187.3 with ± 12 is "187", with
 * ± 38 or 120 "190"; without an uncertainty two digits count.
 */
export function plainNumber(value: number, expandedUncertainty = 0): string {
  if (!(Math.abs(value) < LARGEST)) return '–'
  const size = expandedUncertainty > 0 ? expandedUncertainty : Math.abs(value)
  if (size < 10 ** SMALLEST_PLACE) return '0'
  const decade = Math.floor(Math.log10(size))
  const oneDigit = expandedUncertainty > 0 && size >= 3 * 10 ** decade
  const place = Math.max(oneDigit ? decade : decade - 1, SMALLEST_PLACE)
  const rounded = Math.round(value / 10 ** place) * 10 ** place
  return rounded.toFixed(Math.max(0, -place)).replace('-', '−')
}
