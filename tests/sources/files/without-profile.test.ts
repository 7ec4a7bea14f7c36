import { expect, test } from 'vitest'
import { inspectPhoto } from '../../../src/sources/files/inspect.ts'
import { MAX_PIECES, MAX_PROFILE_BYTES } from '../../../src/sources/files/photo-refusal.ts'
import { withoutProfile } from '../../../src/sources/files/without-profile.ts'
import { writePng } from '../../making/write-png.ts'
import {
  join,
  jpeg,
  latin,
  segment,
  webp,
  webpChunk,
  webpExtended,
  webpLossy,
} from './containers.ts'

const own = (bytes: Uint8Array) => new Uint8Array(bytes)
const iccSegment = (part: number, of: number, bytes: number) =>
  segment(0xe2, join(latin('ICC_PROFILE\0'), [part, of], new Uint8Array(bytes).fill(0xff)))

test('a JPEG loses its profile and nothing else', () => {
  const app1 = segment(0xe1, latin('Exif\0\0rest'))
  const gainMap = segment(0xe2, latin('urn:iso:std:iso:ts:21496:-1\0'))
  const segments = [app1, iccSegment(1, 2, 900), gainMap, iccSegment(2, 2, 700)]
  const plain = jpeg(8, 6, { segments: [app1, gainMap] })
  expect(withoutProfile(own(jpeg(8, 6, { segments })), 'jpeg')).toEqual(plain)
  expect(withoutProfile(own(plain), 'jpeg')).toEqual(plain)
})

test('a PNG loses all that it says of its colours and nothing else', () => {
  const pixel = (x: number, y: number) => [30 * x, 40 * y, 5]
  const plain = writePng(4, 3, pixel)
  const stated = writePng(4, 3, pixel, {
    iccProfile: new Uint8Array(300),
    cicp: [12, 13],
    gamma: 1,
  })
  expect(stated.length).toBeGreaterThan(plain.length)
  expect(withoutProfile(stated, 'png')).toEqual(new Uint8Array(plain))
})

test('a WebP loses its profile, and what announces it', () => {
  const rest = [webpLossy(8, 6), webpChunk('EXIF', latin('rest'))] as const
  const stated = webp(webpExtended(8, 6, 0x28), webpChunk('ICCP', new Uint8Array(301)), ...rest)
  const plain = webp(webpExtended(8, 6, 0x08), ...rest)
  expect(withoutProfile(own(stated), 'webp')).toEqual(plain)
  expect(withoutProfile(own(plain), 'webp')).toEqual(plain)
})

test('what looks like a profile inside the pixels stays', () => {
  const whole = join(jpeg(8, 6), iccSegment(1, 1, 20))
  expect(withoutProfile(own(whole), 'jpeg')).toEqual(whole)
})

test('other kinds are left to the browser', () => {
  expect(withoutProfile(new Uint8Array(20), 'heic')).toBeNull()
})

test('a profile that would hold up a decoder is refused before it gets there', () => {
  const parts = (count: number) =>
    Array.from({ length: count }, (_, i) => iccSegment((i % 255) + 1, 255, 65_000))
  const fits = Math.floor(MAX_PROFILE_BYTES / 65_000)
  expect(inspectPhoto(jpeg(8, 6, { segments: parts(fits) })).space).toBe('other')
  expect(() => inspectPhoto(jpeg(8, 6, { segments: parts(fits + 1) }))).toThrow(
    expect.objectContaining({ refusal: { code: 'damaged', kind: 'jpeg' } }),
  )
})

test('a file of a million pieces is refused at its first hundred thousand', () => {
  const empty = segment(0xfe, [])
  const many = new Uint8Array(empty.length * (MAX_PIECES + 10))
  for (let at = 0; at < many.length; at += empty.length) many.set(empty, at)
  expect(() => inspectPhoto(jpeg(8, 6, { segments: [many] }))).toThrow(
    expect.objectContaining({ refusal: { code: 'damaged', kind: 'jpeg' } }),
  )
  const chunk = join([0, 0, 0, 0], latin('tEXt'), [0, 0, 0, 0])
  const chunks = new Uint8Array(chunk.length * (MAX_PIECES + 10))
  for (let at = 0; at < chunks.length; at += chunk.length) chunks.set(chunk, at)
  const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]
  expect(() => inspectPhoto(join(signature, chunks))).toThrow(
    expect.objectContaining({ refusal: { code: 'damaged', kind: 'png' } }),
  )
})
