/** Blur further from an outline than this many standard deviations mixes in less than 1 %. */
export const BLUR_REACH = 2.4

/** Pixels over which colour stored at half resolution reaches: its own and the next of the interpolation. */
export const HALVED_COLOUR = 3
