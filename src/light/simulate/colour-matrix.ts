import { bradford } from '../../colour/adaptation.ts'
import { xyFromXyz } from '../../colour/chromaticity.ts'
import { observerAt } from '../../colour/observer.ts'
import { P3_FROM_XYZ, WHITE_D65 } from '../../colour/rgb-spaces.ts'
import { type SpectralPower, spectrumFromSamples } from '../../colour/xyz.ts'
import { type Matrix3, multiply, type Triple, transform } from '../../numerics/matrix3.ts'
import { type CameraSensitivity, respond, type TrainingSpectra } from './sensitivity.ts'

/**
 * The 3x3 matrix of a camera's colour management: raw channels, divided by those of a grey card
 * under `light`, to linear Display P3.
 *
 * Least squares over the training reflectances under that light. The fit is done in linear Display
 * P3, the space in which the picture is delivered; a linear fit is the same in XYZ, and unlike a
 * fit of colour differences it gives no extra weight to dark patches. White is preserved: each row
 * adds up to 1, so that the card is exactly white. Targets are adapted to D65 by Bradford.
 *
 * @param light spectrum of the light that the camera is balanced for
 */
export function fitColourMatrix(
  camera: CameraSensitivity,
  light: SpectralPower,
  training: TrainingSpectra,
): Matrix3 {
  const nm = (i: number) => camera.firstNm + i * camera.stepNm
  const observer = { ...camera, values: camera.values.map((_, i) => observerAt(nm(i))) }
  // What the channels make of a reflectance under the light, which is thus worked out once, not for each patch.
  const lit = ({ values, ...grid }: CameraSensitivity): CameraSensitivity => ({
    ...grid,
    values: values.map(([a, b, c], i) => {
      const power = light(nm(i))
      return [a * power, b * power, c * power]
    }),
  })
  const [cameraLit, observerLit] = [lit(camera), lit(observer)]
  const card = respond(camera, light)
  const white = respond(observer, light)
  const xy = xyFromXyz(white)
  if (xy === undefined) throw new RangeError('the light of the colour matrix is dark')
  const toP3 = multiply(P3_FROM_XYZ, bradford(xy, WHITE_D65))
  const count = training.rows[0]?.length ?? 0
  const patches = Array.from({ length: count }, (_, patch) => {
    const reflectance = spectrumFromSamples(
      training.rows.map((row) => row[patch] ?? 0),
      training.firstNm,
      training.stepNm,
    )
    const raw = respond(cameraLit, reflectance)
    const xyz = respond(observerLit, reflectance)
    return {
      raw: [raw[0] / card[0], raw[1] / card[1], raw[2] / card[2]] as const,
      p3: transform(toP3, [xyz[0] / white[1], xyz[1] / white[1], xyz[2] / white[1]]),
    }
  })
  const row = (channel: 0 | 1 | 2): Triple => {
    // Rows that add up to 1: p3 - b = m0 (r - b) + m1 (g - b).
    let [rr, rg, gg, rt, gt] = [0, 0, 0, 0, 0]
    for (const { raw, p3 } of patches) {
      const r = raw[0] - raw[2]
      const g = raw[1] - raw[2]
      const t = p3[channel] - raw[2]
      rr += r * r
      rg += r * g
      gg += g * g
      rt += r * t
      gt += g * t
    }
    const determinant = rr * gg - rg * rg
    const m0 = (rt * gg - gt * rg) / determinant
    const m1 = (gt * rr - rt * rg) / determinant
    return [m0, m1, 1 - m0 - m1]
  }
  return [row(0), row(1), row(2)]
}
