import { ascii, spells, viewOf } from './bytes.ts'
import type { Subsampling } from './jpeg-header.ts'

export interface HeifHeader {
  /** Pixels of the primary picture, before rotation. */
  readonly width: number
  readonly height: number
  readonly bitsPerSample: number
  readonly hasColour: boolean
  readonly subsampling: Subsampling
  readonly animated: boolean
  /** Code points of ITU-T H.273 from a colr/nclx box. */
  readonly cicp: { readonly primaries: number; readonly transfer: number } | null
  readonly iccProfile: Uint8Array | null
  readonly hasGainMap: boolean
  /** TIFF structure of the Exif item. */
  readonly exif: Uint8Array | null
  /** The picture is to be rotated or mirrored for looking at it. */
  readonly turned: boolean
  readonly complete: boolean
}

interface Box {
  readonly type: string
  readonly data: Uint8Array
}

/** Boxes of a container; a box that reaches past the end is given as far as it goes. */
function boxes(bytes: Uint8Array): Box[] {
  const view = viewOf(bytes)
  const list: Box[] = []
  for (let at = 0; at + 8 <= bytes.length && list.length < 2000; ) {
    let length = view.getUint32(at)
    let head = 8
    if (length === 1 && at + 16 <= bytes.length) {
      length = Number(view.getBigUint64(at + 8))
      head = 16
    }
    if (length === 0) length = bytes.length - at
    if (length < head) break
    list.push({ type: ascii(bytes, at + 4, 4), data: bytes.subarray(at + head, at + length) })
    at += length
  }
  return list
}

const child = (list: readonly Box[], type: string) => list.find((box) => box.type === type)?.data

/**
 * Reads the item properties of a HEIF file (HEIC, AVIF) without decoding a pixel.
 *
 * @param bytes the whole file
 * Sources: ISO/IEC 14496-12 8.11 (meta, pitm, iprp), ISO/IEC 23008-12 6.5 (ispe, pixi, auxC),
 * ISO/IEC 14496-15 8.3.3 (hvcC), AV1-ISOBMFF 2.3 (av1C), ISO 21496-1 (tmap).
 */
export function readHeifHeader(bytes: Uint8Array): HeifHeader {
  const top = boxes(bytes)
  const brand = ascii(bytes, 8, 4)
  const meta = boxes((child(top, 'meta') ?? new Uint8Array()).subarray(4))
  const iprp = boxes(child(meta, 'iprp') ?? new Uint8Array())
  const properties = boxes(child(iprp, 'ipco') ?? new Uint8Array())
  const primary = primaryItem(child(meta, 'pitm'))
  const associated = associationsOf(child(iprp, 'ipma'), primary)
  const own = associated.map((i) => properties[i - 1]).filter((box) => box !== undefined)

  const size = child(own, 'ispe')
  const [width, height] =
    size === undefined ? [0, 0] : [viewOf(size).getUint32(4), viewOf(size).getUint32(8)]
  const depths = child(own, 'pixi')
  // The pictures of a grid carry the codec's box, the grid itself does not.
  const codec = codecFacts(own) ?? codecFacts(properties)
  return {
    width,
    height,
    bitsPerSample: depths?.[5] ?? codec?.bitsPerSample ?? 8,
    hasColour: (depths?.[4] ?? 3) >= 3 && codec?.hasColour !== false,
    subsampling: codec?.subsampling ?? '4:2:0',
    animated: brand === 'avis' || brand === 'hevc' || brand === 'msf1',
    ...colour(own),
    hasGainMap: hasGainMap(child(meta, 'iinf'), properties),
    exif: exifItem(bytes, meta),
    turned: (child(own, 'irot')?.[0] ?? 0) !== 0 || child(own, 'imir') !== undefined,
    complete: width > 0 && endsWhole(bytes),
  }
}

function primaryItem(pitm: Uint8Array | undefined): number {
  if (pitm === undefined) return 1
  return pitm[0] === 0 ? viewOf(pitm).getUint16(4) : viewOf(pitm).getUint32(4)
}

/** Property numbers (from 1) of an item. */
function associationsOf(ipma: Uint8Array | undefined, item: number): number[] {
  if (ipma === undefined) return []
  const view = viewOf(ipma)
  const version = view.getUint8(0)
  const wide = (view.getUint8(3) & 1) !== 0
  const entries = view.getUint32(4)
  let at = 8
  for (let i = 0; i < entries; i++) {
    const id = version < 1 ? view.getUint16(at) : view.getUint32(at)
    at += version < 1 ? 2 : 4
    const count = view.getUint8(at)
    at += 1
    const numbers = Array.from({ length: count }, (_, k) =>
      wide ? view.getUint16(at + 2 * k) & 0x7fff : view.getUint8(at + k) & 0x7f,
    )
    if (id === item) return numbers
    at += count * (wide ? 2 : 1)
  }
  return []
}

function codecFacts(list: readonly Box[]) {
  const hevc = child(list, 'hvcC')
  if (hevc !== undefined) {
    const chroma = viewOf(hevc).getUint8(16) & 3
    const names: Subsampling[] = ['4:4:4', '4:2:0', '4:2:2', '4:4:4']
    return {
      subsampling: names[chroma] ?? '4:2:0',
      hasColour: chroma !== 0,
      bitsPerSample: 8 + (viewOf(hevc).getUint8(17) & 7),
    }
  }
  const av1 = child(list, 'av1C')
  if (av1 === undefined) return null
  const flags = viewOf(av1).getUint8(2)
  const across = (flags & 8) !== 0
  const down = (flags & 4) !== 0
  return {
    subsampling: (across ? (down ? '4:2:0' : '4:2:2') : '4:4:4') as Subsampling,
    hasColour: (flags & 16) === 0,
    bitsPerSample: flags & 64 ? (flags & 32 ? 12 : 10) : 8,
  }
}

function colour(own: readonly Box[]): Pick<HeifHeader, 'cicp' | 'iccProfile'> {
  let cicp: HeifHeader['cicp'] = null
  let iccProfile: Uint8Array | null = null
  for (const { type, data } of own) {
    if (type !== 'colr') continue
    if (spells(data, 0, 'nclx')) {
      const view = viewOf(data)
      cicp = { primaries: view.getUint16(4), transfer: view.getUint16(6) }
    } else if (spells(data, 0, 'prof') || spells(data, 0, 'rICC')) {
      iccProfile = data.subarray(4)
    }
  }
  return { cicp, iccProfile }
}

/** Item types stand behind id and protection index: two bytes each, the id four from version 3 on. */
const typeAt = (infe: Uint8Array) => ((infe[0] ?? 0) < 3 ? 8 : 10)

const itemsOf = (iinf: Uint8Array | undefined): Uint8Array[] =>
  iinf === undefined
    ? []
    : boxes(iinf.subarray(iinf[0] === 0 ? 6 : 8))
        .filter(({ type }) => type === 'infe')
        .map(({ data }) => data)

/**
 * The first Exif item, past the offset to its TIFF header (ISO/IEC 23008-12, A.2.1); null where there
 * is none or it lies elsewhere than in the file itself.
 */
function exifItem(bytes: Uint8Array, meta: readonly Box[]): Uint8Array | null {
  const info = itemsOf(child(meta, 'iinf')).find((data) => spells(data, typeAt(data), 'Exif'))
  const iloc = child(meta, 'iloc')
  if (info === undefined || iloc === undefined) return null
  const id = (info[0] ?? 0) < 3 ? viewOf(info).getUint16(4) : viewOf(info).getUint32(4)
  const place = itemPlace(iloc, id)
  if (place === null) return null
  const data = bytes.subarray(place.offset, place.offset + place.length)
  if (data.length < 12) return null
  const tiff = data.subarray(4 + viewOf(data).getUint32(0))
  return spells(tiff, 0, 'II') || spells(tiff, 0, 'MM') ? tiff : null
}

/** Where an item of one extent lies in the file (ISO/IEC 14496-12, 8.11.3). */
function itemPlace(iloc: Uint8Array, item: number): { offset: number; length: number } | null {
  const view = viewOf(iloc)
  const version = view.getUint8(0)
  const [offsetSize, lengthSize] = [view.getUint8(4) >> 4, view.getUint8(4) & 15]
  const [baseSize, indexSize] = [view.getUint8(5) >> 4, version > 0 ? view.getUint8(5) & 15 : 0]
  let at = 6
  const number = (size: number) => {
    let value = 0
    for (let i = 0; i < size; i++) value = value * 256 + view.getUint8(at++)
    return value
  }
  const wide = version < 2 ? 2 : 4
  const count = number(wide)
  for (let i = 0; i < count; i++) {
    const id = number(wide)
    const inFile = version === 0 || (number(2) & 15) === 0
    number(2)
    const base = number(baseSize)
    const extents = number(2)
    let place: { offset: number; length: number } | null = null
    for (let k = 0; k < extents; k++) {
      number(indexSize)
      place = { offset: base + number(offsetSize), length: number(lengthSize) }
    }
    if (id === item) return inFile && extents === 1 ? place : null
  }
  return null
}

/** A tone-map item, or an auxiliary picture whose type names a gain map. */
function hasGainMap(iinf: Uint8Array | undefined, properties: readonly Box[]): boolean {
  return (
    itemsOf(iinf).some((data) => spells(data, typeAt(data), 'tmap')) ||
    properties.some(
      ({ type, data }) => type === 'auxC' && /gainmap/i.test(ascii(data, 4, data.length - 4)),
    )
  )
}

/** The boxes at the top fill the file to its end: a cut-off one breaks the sum. */
function endsWhole(bytes: Uint8Array): boolean {
  const view = viewOf(bytes)
  let at = 0
  while (at + 8 <= bytes.length) {
    let length = view.getUint32(at)
    if (length === 1 && at + 16 <= bytes.length) length = Number(view.getBigUint64(at + 8))
    if (length === 0) return true
    if (length < 8) return false
    at += length
  }
  return at === bytes.length
}
