import type { SpectralPower } from '../../colour/xyz.ts'
import type { Triple } from '../../numerics/matrix3.ts'

/** Spectral sensitivity of a camera's red, green and blue pixels, relative, at even steps. */
export interface CameraSensitivity {
  readonly make: string
  readonly model: string
  readonly firstNm: number
  readonly stepNm: number
  readonly values: readonly Triple[]
}

/** Reflectances of coloured patches at even steps: one row a wavelength, one column a patch. */
export interface TrainingSpectra {
  readonly firstNm: number
  readonly stepNm: number
  readonly rows: readonly (readonly number[])[]
}

interface Table {
  readonly firstNm: number
  readonly stepNm: number
  readonly rows: number[][]
}

/**
 * A table of spectra in the JSON form of the public rawtoaces data: `spectral_data.data.main` with
 * a row of numbers for each wavelength in nm.
 *
 * @throws RangeError, naming what is wrong, when the steps are uneven or a row is not of numbers
 */
function table(json: unknown): Table {
  const main = (json as { spectral_data?: { data?: { main?: Record<string, unknown> } } })
    ?.spectral_data?.data?.main
  if (main === undefined || main === null || typeof main !== 'object') {
    throw new RangeError('no spectral_data.data.main in this file')
  }
  const wavelengths = Object.keys(main)
    .map(Number)
    .sort((a, b) => a - b)
  const first = wavelengths[0]
  const second = wavelengths[1]
  if (first === undefined || second === undefined) throw new RangeError('fewer than two rows')
  const stepNm = second - first
  const rows = wavelengths.map((wavelength, i) => {
    const row = main[String(wavelength)]
    if (Math.abs(wavelength - first - i * stepNm) > 1e-6)
      throw new RangeError(`uneven step at ${wavelength} nm`)
    if (!Array.isArray(row) || !row.every((value) => Number.isFinite(value)))
      throw new RangeError(`row at ${wavelength} nm is not of numbers`)
    return row as number[]
  })
  return { firstNm: first, stepNm, rows }
}

/** A camera from the JSON form of the rawtoaces data. Throws RangeError on anything else. */
export function cameraFromJson(json: unknown): CameraSensitivity {
  const { firstNm, stepNm, rows } = table(json)
  const header = (json as { header?: { manufacturer?: unknown; model?: unknown } }).header
  const values = rows.map((row, i): Triple => {
    const [r, g, b] = row
    if (r === undefined || g === undefined || b === undefined)
      throw new RangeError(`row ${i} has fewer than three channels`)
    return [r, g, b]
  })
  return {
    make: String(header?.manufacturer ?? ''),
    model: String(header?.model ?? ''),
    firstNm,
    stepNm,
    values,
  }
}

/** Training spectra from the JSON form of the rawtoaces data. */
export function trainingFromJson(json: unknown): TrainingSpectra {
  return table(json)
}

/**
 * Linear response of the camera to a spectrum: the sum over its table, half weight at both ends.
 *
 * Beyond the table the camera is taken as blind; what leaks in beyond 780 nm is not in the data.
 *
 * @returns raw R, G, B, not balanced, in arbitrary units common to all spectra
 */
export function respond(camera: CameraSensitivity, spectrum: SpectralPower): Triple {
  const { firstNm, stepNm, values } = camera
  let [r, g, b] = [0, 0, 0]
  const last = values.length - 1
  for (let i = 0; i <= last; i++) {
    const light = spectrum(firstNm + i * stepNm) * (i === 0 || i === last ? 0.5 : 1)
    const row = values[i]!
    r += row[0] * light
    g += row[1] * light
    b += row[2] * light
  }
  return [r, g, b]
}
