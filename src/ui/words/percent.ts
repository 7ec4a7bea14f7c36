/** A share as people read it: one decimal below a tenth. */
export const percent = (share = 0): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`
