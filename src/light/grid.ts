/**
 * Connected parts of a grid, row by row: cells that are `in`, joined to left, right, upper and lower
 * neighbours where `joined` says so.
 */
export function connectedParts(
  columns: number,
  rows: number,
  isIn: (cell: number) => boolean,
  joined: (a: number, b: number) => boolean,
): number[][] {
  const seen = new Uint8Array(columns * rows)
  const parts: number[][] = []
  for (let start = 0; start < seen.length; start++) {
    if (seen[start] || !isIn(start)) continue
    const part = [start]
    seen[start] = 1
    for (let k = 0; k < part.length; k++) {
      const at = part[k]!
      const x = at % columns
      const visit = (next: number) => {
        if (!seen[next] && isIn(next) && joined(at, next)) {
          seen[next] = 1
          part.push(next)
        }
      }
      if (x > 0) visit(at - 1)
      if (x < columns - 1) visit(at + 1)
      if (at >= columns) visit(at - columns)
      if (at + columns < seen.length) visit(at + columns)
    }
    parts.push(part)
  }
  return parts
}

/** Largest upright rectangle of cells that are not 0; width 0 where there is none. */
export function largestRectangle(
  columns: number,
  rows: number,
  cells: Uint8Array,
): { x: number; y: number; width: number; height: number } {
  const heights = new Int32Array(columns + 1)
  let best = { x: 0, y: 0, width: 0, height: 0 }
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) heights[x] = cells[y * columns + x] ? heights[x]! + 1 : 0
    // Bars of rising height wait on the stack until a lower one closes them.
    const stack: number[] = []
    for (let x = 0; x <= columns; x++) {
      while (stack.length > 0 && heights[stack[stack.length - 1]!]! >= heights[x]!) {
        const height = heights[stack.pop()!]!
        const left = stack.length > 0 ? stack[stack.length - 1]! + 1 : 0
        if (height * (x - left) > best.width * best.height) {
          best = { x: left, y: y - height + 1, width: x - left, height }
        }
      }
      stack.push(x)
    }
  }
  return best
}
