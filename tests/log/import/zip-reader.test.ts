import { deflateSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { entryChunks, zipDirectory } from '../../../src/log/import/zip-reader.ts'
import { refusal } from '../importing.ts'
import { textOf } from '../opening.ts'
import { type End, type Forged, forgedZip, littleEndian, WIDE } from './forged-zip.ts'

const bytes = (of: string) => new TextEncoder().encode(of)
const one: Forged = { name: 'a.txt', content: bytes('first') }
const two: Forged = { name: 'b.txt', content: bytes('and second') }
const zip = (entries: readonly Forged[], end?: End) => new Blob([forgedZip(entries, end)])

/** Why the directory is refused, as "code: place"; 'read' where it is not. */
async function directoryOf(file: Blob): Promise<string> {
  return zipDirectory(file).then(
    () => 'read',
    async (error) => {
      const why = await refusal(Promise.reject(error))
      return 'where' in why ? `${why.code}: ${why.where}` : why.code
    },
  )
}

/** The text of an entry, or why it is refused. */
async function contentOf(entry: Forged, most = 1e6): Promise<string> {
  const file = zip([one, entry])
  const [, found] = await zipDirectory(file)
  const reading = textOf(entryChunks(file, found!, most))
  return reading.catch(async () => {
    const why = await refusal(reading)
    return 'where' in why ? `${why.code}: ${why.where}` : why.code
  })
}

describe('the directory of a ZIP', () => {
  test('says name, way of packing, sizes, check sum and place of each entry', async () => {
    const stored: Forged = { ...two, method: 0, localExtra: [1, 2, 3], comment: 'why' }
    const entries = await zipDirectory(zip([one, stored, { ...one, name: 'ä' }]))
    // Local headers of 30 bytes and the name; "first" deflated is 7 bytes long.
    expect(entries).toEqual([
      { name: 'a.txt', method: 8, crc: 0x9271_ee57, compressed: 7, size: 5, offset: 0 },
      expect.objectContaining({ name: 'b.txt', method: 0, compressed: 10, size: 10, offset: 42 }),
      expect.objectContaining({ name: 'ä', offset: 42 + 30 + 5 + 3 + 10 }),
    ])
  })

  test('leaves out folders and what has no name', async () => {
    const folder = { name: 'maps/', content: bytes('') }
    const entries = await zipDirectory(zip([folder, { ...two, name: '' }, one]))
    expect(entries.map(({ name }) => name)).toEqual(['a.txt'])
  })

  test('is found before a comment, also one that looks like its end', async () => {
    for (const comment of [
      '',
      'made by hand',
      'PK\u0005\u0006 once more, and long enough to hold an end',
    ])
      expect(await directoryOf(zip([one], { comment }))).toBe('read')
    const whole = forgedZip([one])
    for (const cut of [1, 21, 22, whole.length])
      expect(await directoryOf(new Blob([whole.slice(0, -cut)]))).toBe(
        'broken: no end of directory',
      )
    expect(await directoryOf(new Blob([whole, 'behind']))).toBe('broken: no end of directory')
  })

  test('that lies outside of the file or is cut short is refused', async () => {
    const size = forgedZip([one]).length - 22 - 42
    expect(await directoryOf(zip([one], { size }))).toBe('read')
    expect(await directoryOf(zip([one], { size: size + 1 }))).toBe(
      'broken: directory outside of the file',
    )
    expect(await directoryOf(zip([one], { size: size - 1 }))).toBe('broken: directory cut short')
    expect(await directoryOf(zip([one], { count: 2 }))).toBe('broken: directory cut short')
    expect(await directoryOf(zip([one], { offset: 41, size }))).toBe('broken: directory cut short')
    // Shorter than the fixed part of one entry.
    expect(await directoryOf(zip([one], { size: 45 }))).toBe('broken: directory cut short')
    expect(await directoryOf(zip([one, two], { count: 1 }))).toBe('read')
  })

  test('with entries that share bytes, or reach into the directory, is refused', async () => {
    // 42 bytes: a header of 30, the name, the content; a header alone is what is counted of one.
    const second = (offset: number) => directoryOf(zip([one, { ...two, said: { offset } }]))
    expect(await second(37)).toBe('read')
    expect(await second(36)).toBe('broken: b.txt: overlaps another entry')
    const reaching = (compressed: number) => directoryOf(zip([{ ...one, said: { compressed } }]))
    expect(await reaching(12)).toBe('read')
    expect(await reaching(13)).toBe('broken: a.txt: outside of the file')
  })

  test('with an entry that is encrypted, packed in another way, or of two sizes is refused', async () => {
    const said = (told: Forged['said'], method: 0 | 8 = 8) =>
      directoryOf(zip([{ ...one, method, said: { ...told } }]))
    expect(await said({ flags: 2 })).toBe('read')
    expect(await said({ flags: 3 })).toBe('broken: a.txt: encrypted')
    expect(await said({ method: 9 })).toBe('broken: a.txt: compression 9')
    expect(await said({ size: 5 }, 0)).toBe('read')
    expect(await said({ size: 6 }, 0)).toBe('broken: a.txt: sizes')
    // Deflated: what it takes beyond a million bytes is looked at.
    expect(await said({ size: 1_000_000 })).toBe('read')
    expect(await said({ size: 1_000_001 })).toBe('too large: a.txt: swells')
  })

  test('is too large with 64 GB of content in all, whatever each takes', async () => {
    const part = 64_000_000_000 / 4
    const offset = 4 * 70_000_000
    /** A file of which all but its directory is empty. */
    const file = (more: number) => {
      const entries = [0, 1, 2, 3].map((i) => entryAt(`${i}`, i, part + (i === 3 ? more : 0)))
      // Behind four local headers, each with a name of one byte and two bytes of nothing deflated.
      const tail = forgedZip(entries, { offset }).slice(4 * 33)
      return {
        size: offset + tail.length,
        slice(from: number, to: number) {
          const gap = new Uint8Array(Math.max(0, offset - from))
          return new Blob([gap, tail.slice(Math.max(0, from - offset), to - offset)])
        },
      } as Blob
    }
    expect(await directoryOf(file(0))).toBe('read')
    expect(await directoryOf(file(1))).toBe('too large: 64000000001 bytes')
  })
})

/** Deflated 64 MB of an entry that says it holds so many bytes. */
function entryAt(name: string, i: number, size: number): Forged {
  return {
    name,
    content: bytes(''),
    said: { size: WIDE, compressed: 65_000_000, offset: 70_000_000 * i },
    extra: littleEndian([2, 1], [2, 8], [8, size]),
  }
}

describe('a ZIP of more than 65,534 entries or 4 GB (ZIP64)', () => {
  test('is found by its larger records wherever one of the small fields is full', async () => {
    for (const full of [{ count: 0xffff }, { size: WIDE }, { offset: WIDE }]) {
      expect(await directoryOf(zip([one, two], { ...full, large: {} }))).toBe('read')
      const entries = await zipDirectory(zip([one, two], { ...full, large: {} }))
      expect(entries.map(({ name }) => name)).toEqual(['a.txt', 'b.txt'])
    }
    // Not asked where none is full.
    expect(await directoryOf(zip([one], { large: { count: 9 } }))).toBe('read')
  })

  test('is taken as it stands without them, and refused where they are damaged', async () => {
    const full = { count: 0xffff }
    expect(await directoryOf(zip([one], full))).toBe('broken: directory cut short')
    expect(await directoryOf(zip([], { count: 0xffff }))).toBe('broken: directory cut short')
    expect(await directoryOf(zip([one], { ...full, large: { locator: 7 } }))).toBe(
      'broken: directory cut short',
    )
    expect(await directoryOf(zip([one], { ...full, large: { mark: 7 } }))).toBe(
      'broken: no end of directory',
    )
  })

  test('is too large with more entries, or a longer directory, than any log has', async () => {
    const large = (of: { count?: number; size?: number }) =>
      directoryOf(zip([one], { count: 0xffff, large: of }))
    expect(await large({ count: 1_100_000 })).toBe('broken: directory cut short')
    expect(await large({ count: 1_100_001 })).toBe('too large: 1100001 entries')
    expect(await large({ size: 128_000_000 })).toBe('broken: directory outside of the file')
    expect(await large({ size: 128_000_001 })).toBe('too large: directory of 128000001 bytes')
  })

  test('has sizes and places that do not fit in an extra field, in that order, where they are full', async () => {
    const wide = (said: Forged['said'], extra: readonly number[]) =>
      zipDirectory(zip([one, { ...two, said: said ?? {}, extra }])).then((found) => found[1])
    const size = [8, 10] as const
    const compressed = [8, 11] as const
    const place = [8, 42] as const
    const other = littleEndian([2, 0x5455], [2, 5], [4, 1], [2, 2]).slice(0, 9)
    const all = littleEndian([2, 1], [2, 24], size, compressed, place)
    const full = { size: WIDE, compressed: WIDE, offset: WIDE }
    const asIs = expect.objectContaining({ size: 10, compressed: 11, offset: 42 })
    expect(await wide({ compressed: 11 }, all)).toEqual(asIs)
    expect(await wide(full, all)).toEqual(asIs)
    expect(await wide(full, [...other, ...all])).toEqual(asIs)
    const only = (field: readonly [8, number]) => littleEndian([2, 1], [2, 8], field)
    expect(await wide({ compressed: 11, offset: WIDE }, only(place))).toEqual(asIs)
    expect(await wide({ compressed: WIDE }, only(compressed))).toEqual(asIs)
    // An extra field that ends before, or that another one follows, says nothing.
    const short = littleEndian([2, 1], [2, 7], place).slice(0, 11)
    const refused = (extra: readonly number[]) =>
      directoryOf(zip([one, { ...two, said: { offset: WIDE }, extra }]))
    expect(await refused(only(place))).toBe('read')
    for (const extra of [short, [...short, ...other], only(place).slice(0, -1), [1, 0, 8], []])
      expect(await refused(extra)).toBe('broken: b.txt: outside of the file')
  })
})

describe('the content of an entry', () => {
  const long = Array.from({ length: 100_000 }, (_, i) =>
    String.fromCharCode(97 + ((i * i) % 25)),
  ).join('')
  const large: Forged = { name: 'b.txt', content: bytes(long) }

  test('comes back, stored or deflated, behind whatever stands in its own header', async () => {
    for (const method of [0, 8] as const) {
      expect(await contentOf({ ...large, method })).toBe(long)
      expect(await contentOf({ ...large, method, localExtra: [9, 9, 9, 9, 9] })).toBe(long)
      expect(await contentOf({ ...large, method, content: bytes('') })).toBe('')
    }
    // Deflated in blocks that are stored: the inflater waits for 64 kB each (RFC 1951, 3.2.4).
    const raw = deflateSync(bytes(long), { level: 0 })
    expect(await contentOf({ ...large, raw })).toBe(long)
  })

  test('is refused beyond what is asked for', async () => {
    expect(await contentOf(two, 10)).toBe('and second')
    expect(await contentOf(two, 9)).toBe('too large: b.txt: 10 bytes')
  })

  test('is refused where it is not what the directory says', async () => {
    const said = (told: Forged['said']) => contentOf({ ...two, said: { ...told } })
    expect(await said({ size: 9 })).toBe('broken: b.txt: more than declared')
    expect(await said({ size: 11 })).toBe('broken: b.txt: less than declared')
    expect(await said({ crc: 1 })).toBe('broken: b.txt: check sum')
    expect(await said({ offset: 40 })).toBe('broken: b.txt: no header')
    const raw = deflateSync(two.content)
    raw[0] = 7
    expect(await contentOf({ ...two, raw })).toBe('broken: b.txt: cannot be inflated')
  })

  test('that the file ends before is refused', async () => {
    const file = zip([large])
    const [entry] = await zipDirectory(file)
    const cut = async (at: number, whole = file) =>
      refusal(textOf(entryChunks(whole.slice(0, at), entry!, 1e6)))
    expect(await cut(29)).toEqual({ code: 'broken', where: 'b.txt: no header' })
    expect(await cut(35)).toEqual({ code: 'broken', where: 'b.txt: cut short' })
  })
})
