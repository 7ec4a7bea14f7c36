import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../numerics/matrix3.ts'
import { type Xy, xyzFromXy } from './chromaticity.ts'
import { P3_FROM_XYZ, XYZ_FROM_P3 } from './rgb-spaces.ts'

/**
 * Bradford cone-like responses. Source: Lam 1985, as in ICC.1:2022, annex E.
 */
const BRADFORD: Matrix3 = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
]
const BRADFORD_INVERSE = invert(BRADFORD)

/** XYZ to XYZ by gains in the three responses that `toResponses` gives (von Kries 1902). */
function vonKries(toResponses: Matrix3, back: Matrix3, from: Xy, to: Xy): Matrix3 {
  const source = transform(toResponses, xyzFromXy(from))
  const target = transform(toResponses, xyzFromXy(to))
  const gains: Triple = [target[0] / source[0], target[1] / source[1], target[2] / source[2]]
  return multiply(back, multiply(diagonal(gains), toResponses))
}

/**
 * Linear Bradford adaptation: the XYZ matrix that carries white `from` to white `to`. Its inverse
 * is the same with the whites exchanged.
 *
 * @param from, to chromaticities of real lights (y > 0)
 * Source: ICC.1:2022, annex E.
 */
export function bradford(from: Xy, to: Xy): Matrix3 {
  return vonKries(BRADFORD, BRADFORD_INVERSE, from, to)
}

/**
 * Gains in linear Display P3 as an XYZ matrix: the space in which a grey reference is applied here.
 * Lights outside the P3 gamut (below about 830 K) have no positive gains.
 *
 * Real cameras balance in their own channels, before the colour matrix, so neither space undoes a
 * wrong balance fully. Over 52 measured cameras set to 5500 K under D65, a 1173 K glow read 58 K
 * off (by G/R); with a grey card 12 +- 10 K through this, 28 +- 9 K through Bradford; set to 7500 K
 * 42 K off, then 10 +- 8 K and 20 +- 7 K (tests/colour/adaptation-cameras.test.ts).
 */
export function p3Diagonal(from: Xy, to: Xy): Matrix3 {
  return vonKries(P3_FROM_XYZ, XYZ_FROM_P3, from, to)
}
