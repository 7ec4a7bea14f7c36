import { lightQuantity } from '../../light/spectrum-import/quantity.ts'
import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'
import type { InstrumentResponse, InstrumentSign, RecordedAs, Recording } from './types.ts'

/** Wavelengths that agree within this share of a step, or this many nm, are the same. */
const SAME_STEP_SHARE = 0.1
const SAME_NM = 0.02

/**
 * Signs that reference and glow were not recorded by one instrument with the same settings. One that
 * was cropped, or of which every second sample was kept, is the same instrument still: what counts is
 * whether the glow's wavelengths are among the reference's, or the other way round.
 */
export function instrumentSigns(
  { spectrum }: Recording,
  response: InstrumentResponse,
): InstrumentSign[] {
  if (response.lamp.emitter === 'calibration') return []
  const signs: InstrumentSign[] = []
  const glow = spectrum.wavelengthNm
  const reference = response.wavelengthNm
  if (!isWithin(glow, reference) && !isWithin(reference, glow)) {
    signs.push('wavelengths')
    if (glow.length !== reference.length) signs.push('number of samples')
  }
  const { recordedAs: then } = response
  if (then) {
    const now = recordedAs(spectrum)
    if (lightQuantity(now.heading ?? '') !== lightQuantity(then.heading ?? '')) {
      signs.push('headings')
    }
    if (isScaled(now) !== isScaled(then)) signs.push('size of signal')
    // Where one says nothing, it may have been copied without its header.
    if (now.integration && then.integration && now.integration !== then.integration) {
      signs.push('integration time')
    }
  }
  return signs
}

export function recordedAs({ name, signal, integration }: Spectrum): RecordedAs {
  return {
    ...(integration === undefined ? {} : { integration }),
    heading: name,
    largest: signal.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
  }
}

/** Counts go into the hundreds; a spectrum scaled to 1 or in units of light does not. */
const LEAST_COUNTS = 20

const isScaled = ({ largest }: RecordedAs) => largest < LEAST_COUNTS

/** Are nearly all values of a rising list, where both overlap, values of another? */
function isWithin(inner: readonly number[], outer: readonly number[]): boolean {
  const step = (outer[outer.length - 1]! - outer[0]!) / Math.max(1, outer.length - 1)
  const tolerance = Math.max(SAME_NM, SAME_STEP_SHARE * step)
  let i = 0
  let compared = 0
  let same = 0
  for (const at of inner) {
    if (at < outer[0]! - tolerance || at > outer[outer.length - 1]! + tolerance) continue
    while (i < outer.length - 1 && outer[i + 1]! <= at) i++
    compared++
    const near = Math.min(Math.abs(at - outer[i]!), Math.abs((outer[i + 1] ?? at + step) - at))
    if (near <= tolerance) same++
  }
  return compared > 0 && same >= 0.95 * compared
}
