/** A field of a TIFF directory: texts, whole numbers of 16 or of 32 bits. */
export interface TiffEntry {
  readonly tag: number
  readonly type: 'text' | 'short' | 'long'
  readonly values: string | readonly number[]
}

export interface TiffPicture {
  readonly width: number
  readonly height: number
  /** 1 grey (0 is black), 3 RGB. */
  readonly channels: 1 | 3
  /** Row by row. */
  readonly samples: Uint16Array
  /** Further fields, of other tags than the picture's own. */
  readonly more: readonly TiffEntry[]
}

const TYPES = { text: [2, 1], short: [3, 2], long: [4, 4] } as const
const [BLACK_IS_ZERO, RGB] = [1, 2]
const STRIPS = 273

/** A baseline TIFF of one uncompressed strip, 16 bits a sample (TIFF 6.0 (1992), sections 2 to 6). */
export function writeTiffPicture(picture: TiffPicture): Uint8Array<ArrayBuffer> {
  const { width, height, channels, samples, more } = picture
  const field = (tag: number, type: 'short' | 'long', ...values: number[]): TiffEntry => ({
    tag,
    type,
    values,
  })
  const entries = [
    field(256, 'long', width),
    field(257, 'long', height),
    field(258, 'short', ...new Array<number>(channels).fill(16)),
    field(259, 'short', 1),
    field(262, 'short', channels === 1 ? BLACK_IS_ZERO : RGB),
    field(STRIPS, 'long', 0),
    field(277, 'short', channels),
    field(278, 'long', height),
    field(279, 'long', 2 * samples.length),
    ...more,
  ].sort((a, b) => a.tag - b.tag)
  const contents = entries.map(bytesOf)
  // What does not fit into four bytes lies behind the directory, at even places.
  const places: number[] = []
  let end = 8 + 2 + 12 * entries.length + 4
  for (const { length } of contents) {
    places.push(end)
    if (length > 4) end += length + (length % 2)
  }
  const bytes = new Uint8Array(end + 2 * samples.length)
  const view = new DataView(bytes.buffer)
  // Little-endian, the directory follows at once.
  view.setUint16(0, 0x4949, true)
  view.setUint16(2, 42, true)
  view.setUint32(4, 8, true)
  view.setUint16(8, entries.length, true)
  for (const [i, { tag, type, values }] of entries.entries()) {
    const at = 10 + 12 * i
    const content = contents[i]!
    const [code] = TYPES[type]
    view.setUint16(at, tag, true)
    view.setUint16(at + 2, code, true)
    view.setUint32(at + 4, type === 'text' ? content.length : values.length, true)
    if (tag === STRIPS) view.setUint32(at + 8, end, true)
    else if (content.length <= 4) bytes.set(content, at + 8)
    else {
      view.setUint32(at + 8, places[i]!, true)
      bytes.set(content, places[i]!)
    }
  }
  for (let i = 0; i < samples.length; i++) view.setUint16(end + 2 * i, samples[i]!, true)
  return bytes
}

function bytesOf({ type, values }: TiffEntry): Uint8Array {
  if (typeof values === 'string') return new TextEncoder().encode(`${values}\0`)
  const size = TYPES[type][1]
  const view = new DataView(new ArrayBuffer(size * values.length))
  for (const [i, value] of values.entries()) {
    if (size === 2) view.setUint16(2 * i, value, true)
    else view.setUint32(4 * i, value, true)
  }
  return new Uint8Array(view.buffer)
}
