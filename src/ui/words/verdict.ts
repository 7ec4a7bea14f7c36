/** What a comparison of estimates comes to, in words: the verdict, the likeliest reason, what next. */
import type { Consensus, EstimateKind } from '../../estimate/consensus.ts'
import { showDifference, showFigure, showPlusMinus } from '../temperature.ts'
import type { Notice } from './estimate.ts'

export const ESTIMATE_NAMES: Record<EstimateKind, string> = {
  'camera colour': 'Camera colour',
  brightness: 'Brightness',
  supply: 'Supply power',
  'by eye': 'By eye',
  spectrum: 'Spectrum',
  'known heat': 'Known heat',
}

type Side = 'hot' | 'cold'

/** Why one kind of reading most often stands too hot or too cold, likeliest first; common practice. */
const REASONS: Record<EstimateKind, Record<Side, string>> = {
  'camera colour': {
    hot: 'red overexposed, white balance not locked, or a bright metal surface',
    cold: 'a scale cooler than the core, white balance set for lamp light, or smoke and glass between',
  },
  brightness: {
    hot: 'a darker surface than that of the known heat, flare, or a wrong exposure label',
    cold: 'a brighter surface, the edge of the picture, glass between, or a glow that does not fill the spot',
  },
  supply: {
    hot: 'wire thicker than measured, power lost in leads and clamps, or a part that does not glow',
    cold: 'wire thinner than measured, a tube or wall that keeps the heat in, or volts read behind a dimmer',
  },
  'by eye': {
    hot: 'a dark shop: eyes used to the dark see heat brighter',
    cold: 'daylight or lamps in the shop: they dull the glow',
  },
  spectrum: {
    hot: 'stray light, or a response measured with a lamp cooler than stated',
    cold: 'a response measured with a lamp hotter than stated, or glass between',
  },
  'known heat': {
    hot: 'the sensor nearer to the fire than the spot that was read',
    cold: 'the sensor touching badly, or a cooler spot than the one that was read',
  },
}

/** The next measurement, the surest first: what does not share the errors of those at hand. */
const NEXT: readonly (readonly [EstimateKind, string])[] = [
  [
    'known heat',
    'Measure a known heat with the same camera: a salt that melts, or a thermocouple.',
  ],
  ['spectrum', 'Take a spectrum.'],
  ['camera colour', 'Take a photo with grey card and locked white balance.'],
  ['supply', 'Measure the supply power.'],
  ['by eye', 'Match it by eye on the chart.'],
]

/** What an estimate is called, and what it says. */
export interface Named {
  readonly id: string
  readonly kind: EstimateKind
  readonly temperatureK: number
  /** Half of the 95 % range that it states, K. */
  readonly expandedUncertaintyK: number
}

const COVERAGE = 2
const figureOf = ({ temperatureK, expandedUncertaintyK }: Omit<Named, 'id' | 'kind'>) =>
  showFigure(temperatureK, expandedUncertaintyK)

export function nextMeasurement(kinds: readonly EstimateKind[]): string {
  const next = NEXT.find(([kind]) => !kinds.includes(kind))
  return next ? next[1] : 'Read the same spot at the same moment again, each way.'
}

export interface VerdictWords {
  readonly notice: Notice
  /** The likeliest reasons of a contradiction; empty where there is none. */
  readonly likeliest: readonly string[]
  /** What to measure next; null where nothing is left open. */
  readonly next: string | null
}

/** @param named every estimate that was compared */
export function verdictWords(found: Consensus, named: readonly Named[]): VerdictWords {
  const next = nextMeasurement(named.map(({ kind }) => kind))
  const note = (title: string, todo: string): Notice => ({ weight: 'note', title, todo })
  switch (found.verdict) {
    case 'single':
      return {
        notice: note('Nothing to compare with yet', 'One instrument cannot check itself.'),
        likeliest: [],
        next,
      }
    case 'agree': {
      const why = found.shared
        ? 'What they share could still be wrong for all of them.'
        : 'They rest on different things, which makes it believable.'
      return { notice: note('They agree', why), likeliest: [], next: null }
    }
    case 'agree within what is known':
      return {
        notice: note(
          'They agree within what is known',
          'Apart, but not by more than their ± allow.',
        ),
        likeliest: [],
        next,
      }
    case 'exclude each other':
      return { ...exclusion(found, named), next }
  }
}

function exclusion(
  { contradictions, oddOneOut }: Consensus,
  named: readonly Named[],
): Omit<VerdictWords, 'next'> {
  const of = (id: string) => named.find((one) => one.id === id)
  const worst = contradictions.reduce((a, b) => (b.differenceK > a.differenceK ? b : a))
  const [hot, cold] = worst.ids.map(of)
  const title =
    contradictions.length === 1 ? 'These cannot both be true' : 'These cannot all be true'
  if (!hot || !cold) return { notice: { weight: 'stop', title, todo: '' }, likeliest: [] }
  const name = ({ kind }: Named) => ESTIMATE_NAMES[kind].toLowerCase()
  const apart =
    `${ESTIMATE_NAMES[hot.kind]} says ${figureOf(hot)}, ${name(cold)} ${figureOf(cold)}: ` +
    `${showDifference(worst.differenceK)} apart, where ` +
    `${showPlusMinus(worst.standardUncertaintyK)} could be chance.`
  const because = (one: Named, side: Side) =>
    `${ESTIMATE_NAMES[one.kind]}: ${REASONS[one.kind][side]}.`
  const odd = oddOneOut && of(oddOneOut.id)
  if (!oddOneOut || !odd) {
    return {
      notice: { weight: 'stop', title, todo: apart },
      likeliest: [because(hot, 'hot'), because(cold, 'cold')],
    }
  }
  const rivals = oddOneOut.rivals.flatMap((id) => of(id) ?? [])
  const unsure = rivals.length
    ? ` Without ${rivals.map(name).join(' or ')} the rest would agree, too.`
    : ''
  return {
    notice: {
      weight: 'stop',
      title: `${ESTIMATE_NAMES[odd.kind]} is the odd one out`,
      todo: `${apart} The others come to ${showFigure(oddOneOut.rest.temperatureK, COVERAGE * oddOneOut.rest.standardUncertaintyK)}.${unsure}`,
    },
    likeliest: [because(odd, oddOneOut.side)],
  }
}

/** What estimates share, in one line; null where each stands for itself. */
export function sharedLine({ shared }: Consensus, named: readonly Named[]): string | null {
  if (!shared) return null
  const names = named
    .filter(({ id }) => shared.ids.includes(id))
    .map(({ kind }) => ESTIMATE_NAMES[kind].toLowerCase())
  const different = [...new Set(names)]
  const who = different.length > 1 ? different.join(', ') : `${names.length} by ${different[0]}`
  return shared.correlation > 0
    ? `Part of the error is common (${who}; correlation up to ${shared.correlation.toFixed(1)}): more of them do not make it smaller.`
    : `One cause moves them against each other (${who}).`
}
