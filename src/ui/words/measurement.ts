/** Words that stand beside every reading of a kind. */
export const BELOW_RANGE = {
  title: 'Below range',
  line: (bound: string) => `Not hotter than about ${bound}.`,
  todo: 'Too little green to measure. Compare with the chart by eye, and remember: not glowing does not mean cold.',
}

export const PRACTICE_LABEL = 'Simulated'
