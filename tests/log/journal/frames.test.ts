import { describe, expect, test } from 'vitest'
import { crc32 } from '../../../src/log/crc32.ts'
import { type Frame, frameBytes, framesIn } from '../../../src/log/journal/frames.ts'

const frame = (text: string, turn = 7): Frame => ({ kind: 'end', turn, text })

async function read(...parts: Uint8Array<ArrayBuffer>[]) {
  const found: (Frame & { end: number })[] = []
  for await (const { kind, turn, text, end } of framesIn(new Blob(parts)))
    found.push({ kind, turn, text, end })
  return found
}

describe('a frame', () => {
  test('is a head of 24 bytes and its text, as it lies on disks', () => {
    const bytes = frameBytes(frame('[1]', 2.5))
    // "GBJ1", three bytes of text, their check sum, the third kind, 2.5 as a double.
    expect([...bytes.subarray(0, 8)]).toEqual([0x47, 0x42, 0x4a, 0x31, 3, 0, 0, 0])
    expect([...bytes.subarray(12)]).toEqual([
      2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 4, 0x40, 0x5b, 0x31, 0x5d,
    ])
    expect(new DataView(bytes.buffer).getUint32(8, true)).toBe(crc32(bytes.subarray(12)))
  })

  test('of each kind comes back, with the place where it ends', async () => {
    const kinds = ['header', 'part', 'end', 'abort', 'snapshot'] as const
    const frames = kinds.map((kind, i) => ({
      kind,
      turn: 2 ** (10 * i),
      text: 'größer '.repeat(i),
    }))
    const found = await read(...frames.map(frameBytes))
    expect(found.map(({ end: _, ...one }) => one)).toEqual(frames)
    // "größer " takes nine bytes.
    expect(found.map(({ end }) => end)).toEqual([24, 57, 99, 150, 210])
  })

  test('is read where it is longer than what is read at a time, or lies across it', async () => {
    // A megabyte is read at a time.
    const lengths = [2 ** 20 - 60, 100, 2 ** 20 + 1, 3]
    const frames = lengths.map((length, i) => frame(`${i}`.repeat(length), i))
    const found = await read(...frames.map(frameBytes))
    expect(found.map(({ turn, text }) => [turn, text.length, text.at(-1)])).toEqual(
      lengths.map((length, i) => [i, length, `${i}`]),
    )
  })

  test('that is cut short or changed ends what can be read', async () => {
    const [first, second, third] = [frame('first'), frame('second'), frame('third')].map(frameBytes)
    const texts = async (middle: Uint8Array<ArrayBuffer>) =>
      (await read(first!, middle, third!)).map(({ text }) => text)
    expect(await texts(second!)).toEqual(['first', 'second', 'third'])
    for (let at = 0; at < second!.length; at++) {
      const changed = second!.slice()
      changed[at]! ^= 1
      expect(await texts(changed), `byte ${at}`).toEqual(['first'])
    }
    for (const cut of [1, second!.length - 24, second!.length - 23, second!.length - 1])
      expect((await read(first!, second!.slice(0, cut))).map(({ text }) => text)).toEqual(['first'])
    expect((await read(first!, second!)).map(({ text }) => text)).toEqual(['first', 'second'])
  })

  test('of a kind that is not known, or without text, is sound or not by its head alone', async () => {
    const bytes = frameBytes(frame(''))
    expect(await read(bytes)).toMatchObject([{ text: '', end: 24 }])
    const unknown = bytes.slice()
    const view = new DataView(unknown.buffer)
    view.setUint32(12, 5, true)
    view.setUint32(8, crc32(unknown.subarray(12)), true)
    expect(await read(unknown)).toEqual([])
  })
})
