/** Three channels or coordinates: XYZ, linear RGB, raw RGB. */
export type Triple = readonly [number, number, number]
/** A 3x3 matrix, row by row. */
export type Matrix3 = readonly [Triple, Triple, Triple]

/** Matrix times column. */
export function transform(m: Matrix3, v: Triple): Triple {
  return [
    m[0][0] * v[0] + m[0][1] * v[1] + m[0][2] * v[2],
    m[1][0] * v[0] + m[1][1] * v[1] + m[1][2] * v[2],
    m[2][0] * v[0] + m[2][1] * v[1] + m[2][2] * v[2],
  ]
}

/** Matrix product a b: first b, then a. */
export function multiply(a: Matrix3, b: Matrix3): Matrix3 {
  const row = (r: Triple): Triple => [
    r[0] * b[0][0] + r[1] * b[1][0] + r[2] * b[2][0],
    r[0] * b[0][1] + r[1] * b[1][1] + r[2] * b[2][1],
    r[0] * b[0][2] + r[1] * b[1][2] + r[2] * b[2][2],
  ]
  return [row(a[0]), row(a[1]), row(a[2])]
}

/** Rows become columns. */
export function transpose(m: Matrix3): Matrix3 {
  return [
    [m[0][0], m[1][0], m[2][0]],
    [m[0][1], m[1][1], m[2][1]],
    [m[0][2], m[1][2], m[2][2]],
  ]
}

/** Inverse by cofactors; a singular matrix gives infinities. */
export function invert(m: Matrix3): Matrix3 {
  const [[a, b, c], [d, e, f], [g, h, i]] = m
  const A = e * i - f * h
  const B = f * g - d * i
  const C = d * h - e * g
  const s = 1 / (a * A + b * B + c * C)
  return [
    [A * s, (c * h - b * i) * s, (b * f - c * e) * s],
    [B * s, (a * i - c * g) * s, (c * d - a * f) * s],
    [C * s, (b * g - a * h) * s, (a * e - b * d) * s],
  ]
}

/** Covariance carried through a linear map: m cov m^T (GUM, JCGM 102, 6.2.1.3). */
export function propagate(m: Matrix3, covariance: Matrix3): Matrix3 {
  return multiply(multiply(m, covariance), transpose(m))
}

/** A matrix with the given diagonal. */
export function diagonal(v: Triple): Matrix3 {
  return [
    [v[0], 0, 0],
    [0, v[1], 0],
    [0, 0, v[2]],
  ]
}

/** A 2x2 matrix, row by row. */
export type Matrix2 = readonly [readonly [number, number], readonly [number, number]]

/** Covariance of two quantities carried through a linear map: m cov m^T. */
export function propagate2(m: Matrix2, covariance: Matrix2): Matrix2 {
  const [[a, b], [c, d]] = m
  const [[p, q], [r, s]] = covariance
  const first: readonly [number, number] = [a * p + b * r, a * q + b * s]
  const second: readonly [number, number] = [c * p + d * r, c * q + d * s]
  return [
    [first[0] * a + first[1] * b, first[0] * c + first[1] * d],
    [second[0] * a + second[1] * b, second[0] * c + second[1] * d],
  ]
}
