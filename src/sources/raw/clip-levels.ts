import type { RawLayout } from './raw-pixels.ts'

/** Sample from which each place of the pattern (or channel) counts as clipped. */
export type ClipLevels = readonly number[]

/** Sensors fill unevenly: this close below the stated white level nothing is trusted any more. */
const NEAR_WHITE = 0.99
/** So many samples at one place's very highest value are a level at which something cut. */
const LEAST_AT_TOP = 64

/**
 * Where clipping begins: just below the stated white level, or at the highest sample there is, where
 * too many share it. Noise spreads the brightest samples of a scene over many values; only a cut
 * piles them up in one.
 */
export function clipLevels(samples: Uint16Array, layout: RawLayout): ClipLevels {
  const { black, white } = layout
  return black.map((low, place) => {
    const stated = low + NEAR_WHITE * (white[place]! - low)
    const { top, count } = highest(samples, layout, place)
    return count >= LEAST_AT_TOP && top > low ? Math.min(stated, top) : stated
  })
}

function highest(samples: Uint16Array, { layout, active, rawWidth }: RawLayout, place: number) {
  const bayer = layout === 'bayer'
  const width = active.right - active.left
  let [top, count] = [0, 0]
  for (let y = bayer ? place >> 1 : 0; y < active.bottom - active.top; y += bayer ? 2 : 1) {
    const row = bayer ? (active.top + y) * rawWidth + active.left : 3 * y * width
    const end = row + (bayer ? width : 3 * width)
    for (let at = row + (bayer ? place & 1 : place); at < end; at += bayer ? 2 : 3) {
      const sample = samples[at]!
      if (sample > top) {
        top = sample
        count = 1
      } else if (sample === top) count++
    }
  }
  return { top, count }
}
