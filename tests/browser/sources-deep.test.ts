import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { encode } from 'fast-png'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { decodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { invert, type Triple, transform } from '../../src/numerics/matrix3.ts'
import { readIccProfile } from '../../src/sources/files/icc-profile.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { ADOBE_COLORANTS, writeIccProfile } from '../making/write-icc.ts'
import { writePng } from '../making/write-png.ts'
import { webp, webpChunk, webpExtended } from '../sources/files/containers.ts'
import { expect } from './harness.ts'
import { asText, test } from './sources-harness.ts'

/** Files with more than 8 bits, and files of a third colour space. */

const readWhole = (page: Page, file: Uint8Array) =>
  page.evaluate(async (text) => {
    const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
    const photo = await sources.openPhoto(new Blob([bytes]))
    const { width, height, space, notes } = photo
    const stored = await photo.readStored({ shape: 'rectangle', x: 0, y: 0, width, height })
    await photo.marks()
    photo.close()
    return { width, height, space, notes, codes: Array.from(stored.codes) }
  }, asText(file))

/** A JPEG with the profile as its first segment (ICC.1:2022, annex B.4). */
function withProfile(file: Uint8Array, icc: Uint8Array): Uint8Array {
  const length = icc.length + 16
  const head = [0xff, 0xe2, length >> 8, length & 255, ...Buffer.from('ICC_PROFILE\0'), 1, 1]
  return Uint8Array.from([...file.subarray(0, 2), ...head, ...icc, ...file.subarray(2)])
}

/** A lossless WebP of one colour as the browser writes it, in the extended form with a profile (RFC 9649, 2.7). */
async function webpOf(page: Page, codes: Triple, icc: Uint8Array): Promise<Uint8Array> {
  const simple = await page.evaluate(async ([r, g, b]) => {
    const canvas = new OffscreenCanvas(64, 48)
    const context = canvas.getContext('2d')!
    context.fillStyle = `rgb(${r}, ${g}, ${b})`
    context.fillRect(0, 0, 64, 48)
    const file = await canvas.convertToBlob({ type: 'image/webp', quality: 1 })
    return [...new Uint8Array(await file.arrayBuffer())]
  }, codes)
  const picture = Uint8Array.from(simple.slice(Buffer.from(simple).indexOf('VP8L')))
  return webp(webpExtended(64, 48, 0x20), webpChunk('ICCP', icc), picture)
}

const codeAt = (x: number, y: number) => [2000 * x + 7, 1000 * y + 300, 30001]

describe('sixteen bits', () => {
  const deepPng = encode({
    width: 32,
    height: 24,
    channels: 3,
    depth: 16,
    data: Uint16Array.from({ length: 3 * 32 * 24 }, (_, i) => {
      const pixel = Math.floor(i / 3)
      return codeAt(pixel % 32, Math.floor(pixel / 32))[i % 3]!
    }),
  })
  // Written by ImageMagick 6.9 from the same numbers.
  const tiff = (name: string) =>
    readFileSync(fileURLToPath(new URL(`../data/tiff/${name}.tif`, import.meta.url)))

  test.for([
    ['a PNG', deepPng, 65535],
    ['a TIFF by LZW', tiff('lzw16'), 65535],
    ['a TIFF by deflate', tiff('deflate16'), 65535],
    ['an uncompressed TIFF of 8 bits', tiff('plain8'), 255],
  ] as const)('%s comes back code by code', async ([, file, top], { sourcesPage }) => {
    const { width, height, codes, notes } = await readWhole(await sourcesPage(), file)
    expect([width, height]).toEqual([32, 24])
    expect(notes).toEqual([])
    for (let i = 0; i < codes.length; i++) {
      const pixel = Math.floor(i / 3)
      const deep = codeAt(pixel % 32, Math.floor(pixel / 32))[i % 3]!
      // A code where the writer went to 8 bits by cutting, else what Float32 leaves.
      expect(Math.abs(codes[i]! - deep / 65535)).toBeLessThan(top === 255 ? 1 / 255 : 1e-7)
    }
  })
})

describe('a file of a third colour space', () => {
  const icc = writeIccProfile('Adobe RGB (1998)', ADOBE_COLORANTS, { gamma: 563 / 256 })
  const light: Triple = [0.6, 0.14, 0.05]
  const own = transform(invert(readIccProfile(icc).matrix!.toP3), light)
  const codes = own.map((v) => Math.round(255 * v ** (256 / 563))) as unknown as Triple
  const flat = Uint8Array.from({ length: 3 * 64 * 48 }, (_, i) => codes[i % 3]!)

  test.for([
    ['PNG', writePng(64, 48, () => codes, { iccProfile: icc })],
    ['JPEG', withProfile(encodeJpeg(flat, 64, 48, { quality: 98, halvedColour: false }), icc)],
    ['WebP', null],
  ] as const)('is read by its primaries and curve: %s', async ([, file], { sourcesPage }) => {
    const page = await sourcesPage()
    const read = await readWhole(page, file ?? (await webpOf(page, codes, icc)))
    expect(read.space).toBe('display-p3')
    expect(read.notes).toEqual([{ code: 'own profile', profileName: 'Adobe RGB (1998)' }])
    // Two codes of 8 bits: rounding of the file, and of JPEG's colour planes.
    for (const c of [0, 1, 2]) {
      expect(Math.abs(decodeTransfer(read.codes[c]!) - light[c]!)).toBeLessThan(0.012)
    }
  })
})
