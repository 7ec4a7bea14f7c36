import { strFromU8, unzipSync } from 'fflate'
import { expect, test } from 'vitest'
import { ZipWriter } from '../../../src/log/export/zip-writer.ts'
import { zipDirectory } from '../../../src/log/import/zip-reader.ts'
import { forgedZip } from '../import/forged-zip.ts'
import { bytesOf } from '../opening.ts'

const bytes = (of: string) => new TextEncoder().encode(of)
async function* parts(...texts: string[]) {
  for (const text of texts) yield bytes(text)
}

test('pictures lie in it byte for byte as the format has it', async () => {
  // The first moment that it can name: 1 January 1980, 00:00.
  const zip = new ZipWriter(new Date(1980, 0, 1))
  async function* chunks() {
    yield* zip.stored('größe.jpg', bytes('first'))
    yield* zip.stored('b', bytes(''))
    yield* zip.end()
  }
  const made = await bytesOf(chunks())
  const forged = forgedZip([
    { name: 'größe.jpg', content: bytes('first'), method: 0, said: { flags: 0x800 } },
    { name: 'b', content: bytes(''), method: 0, said: { flags: 0x800 } },
  ])
  // But for what forged archives leave out: UTF-8 in the local flags, and the date (4.4.4, 4.4.6).
  const view = new DataView(forged.buffer)
  const second = 30 + 11 + 5
  for (const [at, flags, date] of [
    [0, 6, 12],
    [second, 6, 12],
  ] as const) {
    view.setUint16(at + flags, 0x800, true)
    view.setUint16(at + date, (1 << 5) | 1, true)
  }
  const directory = second + 31
  for (const at of [directory, directory + 46 + 11]) view.setUint16(at + 14, (1 << 5) | 1, true)
  expect([...made]).toEqual([...forged])
})

test('texts are deflated as they come, their sizes behind them', async () => {
  const zip = new ZipWriter(new Date(2025, 2, 1))
  async function* chunks() {
    yield* zip.deflated('a.json', parts('one ', 'two ', 'two '.repeat(20_000)))
    yield* zip.deflated('empty', parts())
    yield* zip.stored('c', bytes('stored'))
    yield* zip.end()
  }
  const made = await bytesOf(chunks())
  const files = unzipSync(made)
  expect(strFromU8(files['a.json']!)).toBe(`one two ${'two '.repeat(20_000)}`)
  expect([files.empty?.length, strFromU8(files.c!)]).toEqual([0, 'stored'])
  const [first, empty] = await zipDirectory(new Blob([made]))
  expect(first!.compressed).toBeLessThan(1000)
  const view = new DataView(made.buffer)
  // UTF-8, and sizes in a descriptor: nothing in the header (4.3.9, 4.4.4).
  expect(view.getUint16(6, true)).toBe(0x808)
  expect([view.getUint32(14, true), view.getUint32(18, true), view.getUint32(22, true)]).toEqual([
    0, 0, 0,
  ])
  const behind = 30 + 6 + first!.compressed
  expect([0, 4, 8, 12].map((at) => view.getUint32(behind + at, true))).toEqual([
    0x0807_4b50,
    first!.crc,
    first!.compressed,
    first!.size,
  ])
  expect(empty!.offset).toBe(behind + 16)
})

test('dates outside of the format are its ends, seconds go by twos', () => {
  const time = (at: Date) => {
    const [header] = new ZipWriter(at).stored('a', new Uint8Array(1))
    const view = new DataView(header!.buffer)
    return [view.getUint16(12, true), view.getUint16(10, true)]
  }
  const dated = (year: number, month: number, day: number) =>
    ((year - 1980) << 9) | (month << 5) | day
  expect(time(new Date(1979, 5, 7, 1, 2, 3))).toEqual([dated(1980, 6, 7), (1 << 11) | (2 << 5) | 1])
  expect(time(new Date(2108, 11, 31))).toEqual([dated(2107, 12, 31), 0])
  expect(time(new Date(2107, 0, 1, 23, 59, 59))).toEqual([
    dated(2107, 1, 1),
    (23 << 11) | (59 << 5) | 29,
  ])
})
