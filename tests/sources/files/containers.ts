/** WebP, GIF, HEIF and JPEG files without a picture in them: enough structure to be inspected. */

export const latin = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0))

export function join(...parts: readonly (Uint8Array | readonly number[])[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}

const be16 = (v: number) => [v >> 8, v & 255]
const be32 = (v: number) => [(v >>> 24) & 255, (v >>> 16) & 255, (v >>> 8) & 255, v & 255]
const le16 = (v: number) => [v & 255, v >> 8]
const le32 = (v: number) => be32(v).reverse()

export const segment = (marker: number, data: Uint8Array | readonly number[]) =>
  join([0xff, marker], be16(data.length + 2), data)

/** A JPEG of headers: SOI, the segments, frame header, a scan with stuffing and restarts, EOI. */
export function jpeg(
  width: number,
  height: number,
  options: {
    sampling?: readonly number[]
    progressive?: boolean
    segments?: readonly Uint8Array[]
    end?: boolean
  } = {},
): Uint8Array {
  const sampling = options.sampling ?? [0x22, 0x11, 0x11]
  const frame = [8, ...be16(height), ...be16(width), sampling.length]
  sampling.forEach((factors, i) => {
    frame.push(i + 1, factors, i === 0 ? 0 : 1)
  })
  return join(
    [0xff, 0xd8],
    ...(options.segments ?? []),
    segment(options.progressive ? 0xc2 : 0xc0, frame),
    segment(0xda, [1, 1, 0, 0, 63, 0]),
    [0x12, 0xff, 0x00, 0x34, 0xff, 0xd0, 0x56],
    options.end === false ? [] : [0xff, 0xd9],
  )
}

const riffChunk = (type: string, data: readonly number[] | Uint8Array) =>
  join(latin(type), le32(data.length), data, data.length & 1 ? [0] : [])

export function webp(...chunks: Uint8Array[]): Uint8Array {
  const body = join(latin('WEBP'), ...chunks)
  return join(latin('RIFF'), le32(body.length), body)
}

export const webpExtended = (width: number, height: number, flags: number) =>
  riffChunk('VP8X', [
    flags,
    0,
    0,
    0,
    ...le32(width - 1).slice(0, 3),
    ...le32(height - 1).slice(0, 3),
  ])

export const webpLossy = (width: number, height: number) =>
  riffChunk('VP8 ', [0, 0, 0, 0x9d, 0x01, 0x2a, ...le16(width), ...le16(height)])

export const webpLossless = (width: number, height: number) =>
  riffChunk('VP8L', [0x2f, ...le32((width - 1) | ((height - 1) << 14))])

export const webpChunk = riffChunk

export function gif(width: number, height: number, pictures: number, end = true): Uint8Array {
  const picture = [0x2c, 0, 0, 0, 0, ...le16(width), ...le16(height), 0, 2, 1, 0x44, 0]
  return join(
    latin('GIF89a'),
    le16(width),
    le16(height),
    [0x80, 0, 0, 0, 0, 0, 255, 255, 255],
    [0x21, 0xff, 3, 1, 2, 3, 0],
    ...Array.from({ length: pictures }, () => picture),
    end ? [0x3b] : [],
  )
}

const box = (type: string, ...data: readonly (Uint8Array | readonly number[])[]) => {
  const body = join(...data)
  return join(be32(body.length + 8), latin(type), body)
}
const fullBox = (type: string, ...data: readonly (Uint8Array | readonly number[])[]) =>
  box(type, [0, 0, 0, 0], ...data)

/** A HEIF file with one primary item and its properties. */
export function heif(
  width: number,
  height: number,
  options: {
    brands?: readonly string[]
    colour?: Uint8Array
    /** An ICC profile in a box of its own. */
    profile?: Uint8Array
    chroma?: number
    gainMap?: 'tmap' | 'auxiliary'
    cut?: boolean
    quarterTurns?: number
    /** TIFF block of an Exif item. */
    exif?: Uint8Array
  } = {},
): Uint8Array {
  const brands = options.brands ?? ['heic', 'mif1']
  const hevc = [...new Array(16).fill(0), 0xfc | (options.chroma ?? 1), 0xf8, 0xf8, 0, 0, 0, 0]
  const properties = [
    box('hvcC', hevc),
    fullBox('ispe', be32(width), be32(height)),
    fullBox('pixi', [3, 8, 8, 8]),
    ...(options.colour ? [box('colr', options.colour)] : []),
    ...(options.profile ? [box('colr', join(latin('prof'), options.profile))] : []),
    ...(options.quarterTurns === undefined ? [] : [box('irot', [options.quarterTurns])]),
  ]
  const own = properties.map((_, i) => i + 1)
  if (options.gainMap === 'auxiliary') {
    properties.push(fullBox('auxC', latin('urn:made-up:aux:hdrgainmap\0')))
  }
  const infe = (id: number, type: string) =>
    box('infe', [2, 0, 0, 0], be16(id), [0, 0], latin(`${type}\0`))
  const items = [
    infe(1, 'hvc1'),
    ...(options.gainMap === 'tmap' ? [infe(2, 'tmap')] : []),
    ...(options.exif ? [infe(3, 'Exif')] : []),
  ]
  // ISO/IEC 23008-12, A.2.1: how far into the item the TIFF header lies, then the item.
  const exif = options.exif ? join(be32(0), options.exif) : new Uint8Array(0)
  const located = (offset: number) =>
    fullBox('iloc', [0x44, 0], be16(1), be16(3), be16(0), be16(1), be32(offset), be32(exif.length))
  const ftyp = box('ftyp', latin(brands[0]!), [0, 0, 0, 0], ...brands.map(latin))
  const meta = (offset: number) =>
    fullBox(
      'meta',
      fullBox('hdlr', new Uint8Array(20)),
      fullBox('pitm', be16(1)),
      fullBox('iinf', be16(items.length), ...items),
      ...(options.exif ? [located(offset)] : []),
      box('iprp', box('ipco', ...properties), fullBox('ipma', be32(1), be16(1), [own.length], own)),
    )
  const dataAt = ftyp.length + meta(0).length + 8
  const file = join(ftyp, meta(dataAt), box('mdat', exif, new Uint8Array(64)))
  return options.cut ? file.subarray(0, file.length - 10) : file
}

export const nclx = (primaries: number, transfer: number) =>
  join(latin('nclx'), be16(primaries), be16(transfer), be16(1), [0x80])

/** opRGB (IEC 61966-2-5), D50-adapted (from memory): red and blue of sRGB, a wider green. */
export const WIDE_GREEN_COLORANTS = [
  [0.60974, 0.31111, 0.01947],
  [0.20528, 0.62567, 0.06087],
  [0.14919, 0.06322, 0.74457],
] as const
