/** Between looks at the whole frame, ms. */
export const LOOK_MS = 250
/** Looks from one search for the glow to the next; between them the sight stays. */
export const FIND_EVERY = 4
/**
 * Between figures on the screen, ms. Frames come at any rate, so two figures are up to twice as far
 * apart: ten a second is kept from ten frames a second on.
 */
export const SHOW_MS = 45
