import { plain, tabulate } from './arrays.ts'
import type { ResponseResult } from './response.ts'
import { findTrustedRange, GLASS_NM } from './trusted-range.ts'
import type { Calibration, Instrument, Recording } from './types.ts'

/** Silicon passes light beyond this: what a calibration says there is mostly noise, nm. */
const SILICON_ENDS_NM = 1050

/**
 * The response of an instrument whose file is in units of light already: even for power per
 * wavelength, as the wavelength for photons (a photon carries hc / wavelength). Dark and response have
 * been taken off by the maker; what is left of both is in the prior of the shape.
 *
 * @param recording the glow's own: it is the only one there is
 */
export function responseFromCalibration(
  { spectrum }: Recording,
  calibration: Calibration,
  instrument: Instrument,
): ResponseResult {
  const { wavelengthNm } = spectrum
  const count = wavelengthNm.length
  const verdicts = wavelengthNm.map((nm) =>
    nm < GLASS_NM ? 'glass' : nm > SILICON_ENDS_NM ? 'noise' : null,
  )
  const range = findTrustedRange(wavelengthNm, verdicts)
  if (range === null) return { ok: false, code: 'no trusted range' }
  const last = wavelengthNm[count - 1]!
  const none = () => plain(new Float64Array(count))
  return {
    ok: true,
    response: {
      wavelengthNm: [...wavelengthNm],
      response: plain(
        tabulate(count, (i) => (calibration.quantity === 'photons' ? wavelengthNm[i]! / last : 1)),
      ),
      rawNoise: none(),
      smoothedNoise: none(),
      smoothingNm: none(),
      lampPeakOverSignal: plain(tabulate(count, () => 1)),
      lamp: calibration,
      instrument: { ...instrument, secondOrderShare: 0 },
      pedestal: { mean: 0, standardUncertainty: 1e-9 },
      range,
      findings: [],
    },
  }
}
