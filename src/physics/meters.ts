import { rectangularUncertainty, rootSumSquare } from './uncertainty.ts'

/** A value read from a meter, with what its data sheet says about its accuracy. */
export interface MeterReading {
  /** Volts, amperes, watts or ohms. */
  readonly value: number
  /** Stated accuracy: percent of the reading ... */
  readonly percentOfReading: number
  /** ... plus this many of the last digit's steps. */
  readonly digits: number
  /** One step of the last digit, in the unit of value. */
  readonly resolution: number
}

/** What is commonly printed for pocket meters; used until the person states better. Common practice. */
export const POCKET_METER = {
  dcVolts: { percentOfReading: 0.8, digits: 2 },
  acVolts: { percentOfReading: 1.2, digits: 5 },
  amperes: { percentOfReading: 2, digits: 5 },
  ohms: { percentOfReading: 1, digits: 3 },
  plugInWatts: { percentOfReading: 2, digits: 2 },
} as const

/**
 * Standard uncertainty of a meter reading: the stated limits +-(percent of reading + digits) and
 * half a step of the display, both taken as rectangular.
 *
 * Source: JCGM 100:2008, 4.3.7 and F.2.2.1.
 */
export function meterStandardUncertainty(reading: MeterReading): number {
  const limits =
    (Math.abs(reading.value) * reading.percentOfReading) / 100 + reading.digits * reading.resolution
  return rootSumSquare([
    rectangularUncertainty(limits),
    rectangularUncertainty(reading.resolution / 2),
  ])
}
