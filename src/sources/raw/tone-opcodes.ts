/** Opcodes that bend the samples of a plane (DNG 1.7, chapter 7): by a table, by a polynomial. */
const MAP_TABLE = 7
const MAP_POLYNOMIAL = 8
/** Identity, version, flags and length stand before an opcode's own fields. */
const HEAD_BYTES = 16
/** First plane and number of planes, behind the area. */
const PLANE = 16
const PLANES = 20
const MOST_OPCODES = 1000

/**
 * Whether a list of opcodes bends the samples in a way that LibRaw follows: not at all; or, where the
 * picture is lossy, by one polynomial for each of the three planes. Others it leaves out without a
 * word, and may hand out planes of nothing but zeros.
 *
 * @param list bytes of OpcodeList2, big-endian whatever the file is (DNG 1.7, chapter 7)
 * @throws RangeError where the list ends too early
 */
export function followsTone(list: readonly number[], lossy: boolean): boolean {
  if (list.length === 0) return true
  const view = new DataView(Uint8Array.from(list).buffer)
  const count = view.getUint32(0)
  if (count > MOST_OPCODES) return false
  const bent = new Set<number>()
  for (let i = 0, at = 4; i < count; i++) {
    const id = view.getUint32(at)
    const fields = at + HEAD_BYTES
    if (id === MAP_TABLE) return false
    if (id === MAP_POLYNOMIAL) {
      if (!lossy || view.getUint32(fields + PLANES) !== 1) return false
      bent.add(view.getUint32(fields + PLANE))
    }
    at = fields + view.getUint32(at + 12)
  }
  return bent.size === 0 || [0, 1, 2].every((plane) => bent.has(plane))
}
