/** How to take an exposure sweep; apart from its findings, so that the first page stays light. */
export const SWEEP_GUIDE = [
  'Phone on a stand, glow steady, white balance, focus and exposure locked by hand.',
  'Start just below clipping, then once a third of a stop brighter, three times a third darker. Then halve the exposure time for each photo, at least eight times at a dull red.',
  'Take the first exposure once more at the end: it shows whether the glow has cooled.',
  'Then keep the curve: later photos of moving work need only one shot.',
]
