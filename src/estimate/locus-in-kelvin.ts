/** The camera's locus as a person reads it: not green over red, but degrees that a camera is off. */
import type { LocusBand, LocusView } from './types.ts'

/** Departures from the camera as it is known with all references, K; above 0 reads too hot. */
export interface KelvinBand {
  readonly temperatureK: readonly number[]
  readonly medianK: readonly number[]
  readonly low95K: readonly number[]
  readonly high95K: readonly number[]
}

export interface LocusInKelvin {
  readonly prior: KelvinBand
  readonly posterior: KelvinBand
  readonly references: readonly {
    readonly id: string
    readonly temperatureK: number
    readonly residualK: number
    /** Of temperature and photo together. */
    readonly standardUncertaintyK: number
  }[]
}

/**
 * Ratios of a locus divided by the slope of its median, so that all of it is in kelvin.
 *
 * @param view at least two temperatures, rising, with a median that rises
 */
export function locusInKelvin({ prior, posterior, references }: LocusView): LocusInKelvin {
  const band = (of: LocusBand): KelvinBand => ({
    temperatureK: of.temperatureK,
    medianK: of.temperatureK.map((t, i) => residualAt(posterior, t, of.median[i]!)),
    low95K: of.temperatureK.map((t, i) => residualAt(posterior, t, of.low95[i]!)),
    high95K: of.temperatureK.map((t, i) => residualAt(posterior, t, of.high95[i]!)),
  })
  return {
    prior: band(prior),
    posterior: band(posterior),
    references: references.map((reference) => {
      const { id, temperatureK, standardUncertaintyK, greenOverRed, standardUncertainty } =
        reference
      return {
        id,
        temperatureK,
        residualK: residualAt(posterior, temperatureK, greenOverRed),
        standardUncertaintyK: Math.hypot(
          standardUncertaintyK,
          standardUncertainty / medianAt(posterior, temperatureK).slope,
        ),
      }
    }),
  }
}

function residualAt(median: LocusBand, temperatureK: number, ratio: number): number {
  const { value, slope } = medianAt(median, temperatureK)
  return (ratio - value) / slope
}

/** Median and its slope by temperature, linear between the points; held straight beyond the ends. */
function medianAt({ temperatureK, median }: LocusBand, at: number) {
  const above = temperatureK.findIndex((t) => t > at)
  const i = Math.min(Math.max(above === -1 ? temperatureK.length - 1 : above, 1), median.length - 1)
  const [t0, t1, m0, m1] = [temperatureK[i - 1]!, temperatureK[i]!, median[i - 1]!, median[i]!]
  const slope = (m1 - m0) / (t1 - t0)
  return { value: m0 + slope * (at - t0), slope }
}
