/**
 * Inverse of a small symmetric positive definite matrix, by rows. Rows and columns are scaled to a
 * unit diagonal first, so parameters of very different size do no harm.
 *
 * @returns null when it is singular to working accuracy
 */
export function invertPositive(matrix: readonly (readonly number[])[]): number[][] | null {
  const size = matrix.length
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]!))
  if (!scale.every((value) => Number.isFinite(value) && value > 0)) return null
  const rows = matrix.map((row, i) => [
    ...row.map((value, j) => value * scale[i]! * scale[j]!),
    ...row.map((_, j) => (i === j ? 1 : 0)),
  ])
  for (let column = 0; column < size; column++) {
    const pivot = rows[column]!
    // Positive definite and scaled: elimination without exchange is stable, pivots stay in 0..1.
    if (!(pivot[column]! > 1e-14)) return null
    const inverse = 1 / pivot[column]!
    for (let j = 0; j < 2 * size; j++) pivot[j]! *= inverse
    for (let i = 0; i < size; i++) {
      if (i === column) continue
      const row = rows[i]!
      const factor = row[column]!
      for (let j = 0; j < 2 * size; j++) row[j]! -= factor * pivot[j]!
    }
  }
  return rows.map((row, i) => row.slice(size).map((value, j) => value * scale[i]! * scale[j]!))
}
