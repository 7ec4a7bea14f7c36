/** Lines in which a header stands. */
const HEADER_LINES = 80
const WORDS = /integrat|exposure|belichtung|(?:^|\W)int\.? ?time/i
const LONGEST = 80

/**
 * How a text writes the integration time of its recording, with "#" for every number: programs and
 * settings differ in it.
 *
 * @returns null where no line above the data speaks of one
 * @example integrationStyle(['Integration Time (sec): 0.25']) // 'integration time (sec): #'
 */
export function integrationStyle(lines: readonly string[]): string | null {
  const line = lines.slice(0, HEADER_LINES).find((one) => WORDS.test(one) && /\d/.test(one))
  if (line === undefined) return null
  return line
    .toLowerCase()
    .replace(/\d+(?:[.,]\d+)?(?:e[+-]?\d+)?/g, '#')
    .replace(/["\s]+/g, ' ')
    .trim()
    .slice(0, LONGEST)
}
