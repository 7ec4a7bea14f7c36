/**
 * Ranges of the physical quantities in everything that is kept or read from a file. They are wider
 * than any real value, and narrow enough that no formula leaves the numbers: its square, its
 * inverse and Planck's law can be taken of each. What lies outside is refused with its field's
 * name; what was kept before counts as damaged.
 */
import * as v from 'valibot'

/** No number is kept without both ends: this is the only place of the log and the session that makes one. */
export const within = (least: number, most: number) =>
  v.pipe(v.number(), v.minValue(least), v.maxValue(most))
/** A count or a code. */
export const wholeWithin = (least: number, most: number) => v.pipe(within(least, most), v.integer())
/** Zero, or not so small that its square vanishes. */
const zeroOrWithin = (least: number, most: number) =>
  v.pipe(
    v.number(),
    v.minValue(0),
    v.maxValue(most),
    v.check((value) => value === 0 || value >= least, `Expected 0 or >=${least}`),
  )

/** Of a piece, a room, a melt. Below 50 K the glow that is read here has no light left at all. */
export const temperatureK = within(50, 20_000)
/** An end of an interval: where little is known it may lie below zero. */
export const intervalEndK = within(-1e6, 1e6)
export const uncertaintyK = zeroOrWithin(1e-6, 1e6)
/** Signed. */
export const contributionK = within(-1e6, 1e6)
/** Of a light: of clear sky it is many thousands, of a colour beside the locus it means little. */
export const colourTemperatureK = within(100, 1e7)

/** Volts, amperes, watts, ohms as read. */
export const electrical = within(1e-9, 1e9)
export const electricalOrNone = zeroOrWithin(1e-9, 1e9)
/** Percent, digits or resolution of a meter. */
export const meterAccuracy = zeroOrWithin(1e-9, 1e6)

/** Differences and slopes of ln(G/R), ln of gains, of light, of tone curves. */
export const lnRatio = within(-100, 100)
export const lnUncertainty = zeroOrWithin(1e-9, 100)
/** Of a surface or a window: green over red. */
export const lnSlope = within(-5, 5)
/** Linear light of a channel, chromaticities, elements of a matrix: of no set scale. */
export const light = within(-1e9, 1e9)
/** Red light, by which the others are divided. */
export const redLight = v.pipe(
  light,
  v.check((value) => value === 0 || Math.abs(value) >= 1e-12, 'Expected 0 or >=1e-12'),
)
export const variance = within(-1e18, 1e18)
export const share = within(0, 1)

export const exposureSeconds = within(1e-9, 1e6)
export const iso = within(0.01, 1e9)
export const fNumber = within(0.01, 1e4)

export const wavelengthNm = within(100, 100_000)
/** Of a scale, or a width, nm. */
export const nmUncertainty = zeroOrWithin(1e-9, 1e4)
/** What a spectrometer counted, in its own unit. */
export const signal = within(-1e12, 1e12)
/** The same where it divides. */
export const signalUncertainty = within(1e-12, 1e12)

export const pixels = within(0, 1e6)
export const seconds = within(0, 1e9)
