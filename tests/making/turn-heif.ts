/**
 * Adds properties to the primary picture of a HEIF file with one item of codes, as phones do that were
 * held upright. Sizes grow outwards, and the places of the data (iloc) move with them.
 *
 * Sources: ISO/IEC 14496-12, 8.11.3 (iloc), 8.11.14 (ipma); ISO/IEC 23008-12, 6.5.10 (irot), 6.5.12 (imir).
 */

const text = (bytes: Uint8Array, at: number) => String.fromCharCode(...bytes.subarray(at, at + 4))

/** Where the box of a path of types begins. */
function placeOf(file: DataView, path: readonly string[]): number {
  const bytes = new Uint8Array(file.buffer, file.byteOffset, file.byteLength)
  let [at, end] = [0, bytes.length]
  for (const [depth, type] of path.entries()) {
    while (text(bytes, at + 4) !== type) {
      at += file.getUint32(at)
      if (at + 8 > end) throw new RangeError(`no box ${path.slice(0, depth + 1).join('/')}`)
    }
    if (depth === path.length - 1) break
    end = at + file.getUint32(at)
    at += type === 'meta' ? 12 : 8
  }
  return at
}

/** @param property a whole box, for instance {@link quarterTurns} */
export function withProperty(heif: Uint8Array, property: readonly number[]): Uint8Array {
  const file = new DataView(Uint8Array.from(heif).buffer)
  const at = (...path: string[]) => placeOf(file, path)
  const [meta, iprp] = [at('meta'), at('meta', 'iprp')]
  const [ipco, ipma] = [at('meta', 'iprp', 'ipco'), at('meta', 'iprp', 'ipma')]
  const item = file.getUint16(at('meta', 'pitm') + 12)
  const ipcoEnd = ipco + file.getUint32(ipco)

  let [count, box] = [1, ipco + 8]
  for (; box < ipcoEnd; count++) box += file.getUint32(box)
  // One byte an association: small files need no more (flags 0, version 0).
  let entry = ipma + 16
  while (file.getUint16(entry) !== item) entry += 3 + file.getUint8(entry + 2)
  const associationsEnd = entry + 3 + file.getUint8(entry + 2)
  file.setUint8(entry + 2, file.getUint8(entry + 2) + 1)

  const grown = property.length + 1
  for (const place of [meta, iprp]) file.setUint32(place, file.getUint32(place) + grown)
  file.setUint32(ipco, file.getUint32(ipco) + property.length)
  file.setUint32(ipma, file.getUint32(ipma) + 1)
  moveData(file, at('meta', 'iloc'), grown)

  const old = new Uint8Array(file.buffer)
  const essential = 0x80 | count
  return Uint8Array.from([
    ...old.subarray(0, ipcoEnd),
    ...property,
    ...old.subarray(ipcoEnd, associationsEnd),
    essential,
    ...old.subarray(associationsEnd),
  ])
}

/** Moves the data that lie in the file itself; sizes of four bytes, each item with a base. */
function moveData(file: DataView, iloc: number, by: number): void {
  const version = file.getUint8(iloc + 8)
  const [sizes, base] = [file.getUint8(iloc + 12), file.getUint8(iloc + 13)]
  if (version > 1 || sizes !== 0x44 || base !== 0x40)
    throw new RangeError('an iloc that this writer does not know')
  let at = iloc + 16
  for (let left = file.getUint16(iloc + 14); left > 0; left--) {
    const inFile = version === 0 || file.getUint16(at + 2) === 0
    at += version === 1 ? 6 : 4
    if (inFile) file.setUint32(at, file.getUint32(at) + by)
    at += 6 + 8 * file.getUint16(at + 4)
  }
}

/** Turned anticlockwise for looking at it. */
export const quarterTurns = (turns: 1 | 2 | 3) => [0, 0, 0, 9, ...latin('irot'), turns]
/** Mirrored about the upright axis (1: left and right change) or the level one. */
export const mirrored = (axis: 0 | 1) => [0, 0, 0, 9, ...latin('imir'), axis]

const latin = (word: string) => Array.from(word, (c) => c.charCodeAt(0))
