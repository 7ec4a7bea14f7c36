/**
 * Photos of a glowing bar before a dark ground, as files: noise of every pixel in raw channels,
 * colour matrix, tone curve, 8-bit codes in Display P3, JPEG.
 */
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import type { SpectralPower } from '../../src/colour/xyz.ts'
import type { Region, StoredImage } from '../../src/light/image.ts'
import type { SimulatedCamera } from '../../src/light/simulate/simulated-camera.ts'
import { multiply, type Triple, transform } from '../../src/numerics/matrix3.ts'
import { decodeJpeg } from '../decode-jpeg.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { balanceMoved, leakyResponse } from './disturbance.ts'
import type { Sensor } from './photograph.ts'
import type { Random } from './random.ts'
import { type CameraCurve, type CurveFamily, drawCurve, throughCurve } from './tone-curves.ts'

const WIDTH = 128
const HEIGHT = 96
const BAR = { left: 24, top: 24, right: 104, bottom: 72 }
/** Inside the bar, off its edges. */
export const BAR_REGION: Region = { shape: 'rectangle', x: 32, y: 32, width: 64, height: 32 }

export interface Coding {
  readonly quality: number
  readonly halvedColour: boolean
}
export const FINE: Coding = { quality: 95, halvedColour: false }
export const COARSE: Coding = { quality: 80, halvedColour: true }

/** Camera, curve and black level that all photos of one session share. */
export interface Session {
  readonly camera: SimulatedCamera
  readonly curve: CameraCurve
  /** Linear light that the file shows where there is none, a channel. */
  readonly black: Triple
  readonly sensor: Sensor
  readonly coding: Coding
  /** Infrared that the filter lets through, see disturbance.ts; 0 for none. */
  readonly leak: number
  /** Of this photo's balance and rendering against the others, ln(G/R). */
  readonly drift: number
}

/** Black level within +-0.1 % of full scale. */
const drawBlack = (random: Random): Triple => {
  const one = () => 0.002 * random.uniform() - 0.001
  return [one(), one(), one()]
}

/** A camera with a curve and a black level of its own. */
export const drawSession = (
  camera: SimulatedCamera,
  sensor: Sensor,
  random: Random,
  family: CurveFamily,
  coding: Coding,
): Session => ({
  camera,
  curve: drawCurve(family, random),
  black: drawBlack(random),
  sensor,
  coding,
  leak: 0,
  drift: 0,
})

/** What reaches the tone curve, up to a scale: raw channels over the card's, and Display P3. */
function deliveredBy({ camera, leak, drift }: Session, spectrum: SpectralPower) {
  const [r, g, b] = leakyResponse(camera, spectrum, leak)
  const raw: Triple = [r / camera.card[0], g / camera.card[1], b / camera.card[2]]
  const matrix = multiply(balanceMoved(drift), camera.matrix)
  return { raw, matrix, p3: transform(matrix, raw) }
}

/**
 * A photo of a bar of this spectrum.
 *
 * @param red linear light of the bar's red before the tone curve, 1 = top code
 */
export function photographBar(
  session: Session,
  spectrum: SpectralPower,
  red: number,
  random: Random,
): StoredImage {
  const { curve, black, sensor, coding } = session
  const { raw, matrix, p3 } = deliveredBy(session, spectrum)
  const scale = red / p3[0]
  // Full scale of the raw channels: the brightest of them fills a pixel when red reaches its top.
  const full = sensor.electrons / (Math.max(...raw) / p3[0])
  const codes = new Uint8Array(3 * WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, i += 3) {
      const inside = x >= BAR.left && x < BAR.right && y >= BAR.top && y < BAR.bottom
      const noisy = ([0, 1, 2] as const).map((c) => {
        const electrons = inside ? raw[c] * scale * full : 0
        const sd = Math.sqrt(Math.max(electrons, 0) + sensor.readNoise ** 2)
        return (electrons + sd * random.normal()) / full
      }) as unknown as Triple
      const light = transform(matrix, noisy)
      const bent = throughCurve(curve, [
        light[0] + black[0],
        light[1] + black[1],
        light[2] + black[2],
      ])
      for (const c of [0, 1, 2] as const)
        codes[i + c] = Math.round(255 * Math.min(Math.max(encodeTransfer(bent[c]), 0), 1))
    }
  }
  const { data } = decodeJpeg(encodeJpeg(codes, WIDTH, HEIGHT, coding))
  return {
    width: WIDTH,
    height: HEIGHT,
    space: 'display-p3',
    codes: new Float32Array(data).map((code) => code / 255),
  }
}

/** Linear red whose stored code, through the session's curve, is a given one. */
export function redForCode(session: Session, spectrum: SpectralPower, code: number): number {
  const wanted = decodeTransfer(code)
  const { p3 } = deliveredBy(session, spectrum)
  let low = 0
  let high = 1
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2
    const bent = throughCurve(session.curve, [
      middle,
      (middle * p3[1]) / p3[0],
      (middle * p3[2]) / p3[0],
    ])
    if (bent[0] < wanted) low = middle
    else high = middle
  }
  return (low + high) / 2
}
