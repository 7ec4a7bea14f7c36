import { kelvinFromCelsius } from './units.ts'

/** What a smith does with steel in a range of heat. */
export type WorkKind = 'forging' | 'hardening' | 'burning'

/** A working range of a class of steel, K; `burning` runs upwards from its lower end. */
export interface WorkingRange {
  readonly work: WorkKind
  /** Plain steel by carbon content, and the stainless class that is forged most. */
  readonly steel: 'low-carbon' | 'medium-carbon' | 'high-carbon' | 'stainless-18-8'
  readonly fromK: number
  readonly toK: number
  readonly source: string
}

const range = (
  work: WorkKind,
  steel: WorkingRange['steel'],
  fromC: number,
  toC: number,
  source: string,
): WorkingRange => ({
  work,
  steel,
  fromK: kelvinFromCelsius(fromC),
  toK: kelvinFromCelsius(toC),
  source,
})

const COMMON = 'common practice'
/**
 * Hardening: 30 to 50 K above the upper critical line of the iron-carbon diagram below 0.8 % carbon,
 * above the lower one (727 °C) beyond it.
 */
const DIAGRAM = 'common practice, from the iron-carbon diagram'
/** Burning: where melting begins at the grain borders, some 50 K below the solidus. */
const SOLIDUS = 'common practice, from the solidus of the iron-carbon diagram'

/** Ranges of the trade, °C as it prints them. Steel makers' sheets go before these. */
export const WORKING_RANGES: readonly WorkingRange[] = [
  range('forging', 'low-carbon', 850, 1280, COMMON),
  range('forging', 'medium-carbon', 820, 1220, COMMON),
  range('forging', 'high-carbon', 800, 1080, COMMON),
  range('forging', 'stainless-18-8', 930, 1200, COMMON),
  range('hardening', 'medium-carbon', 820, 870, DIAGRAM),
  range('hardening', 'high-carbon', 760, 810, DIAGRAM),
  range('burning', 'low-carbon', 1400, 1500, SOLIDUS),
  range('burning', 'medium-carbon', 1350, 1500, SOLIDUS),
  range('burning', 'high-carbon', 1200, 1500, SOLIDUS),
]
