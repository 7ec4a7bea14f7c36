import { describe, expect, test } from 'vitest'
import { type PhotoRefusal, PhotoRefused } from '../../../src/sources/files/photo-refusal.ts'
import type { PhotoNote } from '../../../src/sources/photo/photo.ts'
import { photoNotice, refusalSentence } from '../../../src/ui/words/photo-refusals.ts'

const refusals: PhotoRefusal[] = [
  { code: 'empty file' },
  { code: 'not a photo', kind: 'unknown' },
  { code: 'not a photo', kind: 'video' },
  { code: 'truncated', kind: 'jpeg', bytes: 81_234 },
  { code: 'damaged', kind: 'png' },
  { code: 'ink colours' },
  { code: 'no colour' },
  { code: 'no pixels', width: 0, height: 7 },
  { code: 'too many pixels', megapixels: 108, allowedMegapixels: 100 },
  { code: 'too many bytes', megabytes: 300, allowedMegabytes: 250 },
  { code: 'animated', kind: 'gif' },
  { code: 'hdr only', transfer: 'pq' },
  { code: 'raw file' },
  { code: 'foreign raw', reason: 'no dng' },
  { code: 'foreign raw', reason: 'layout' },
  { code: 'foreign raw', reason: 'compression' },
  { code: 'foreign raw', reason: 'tone' },
  { code: 'foreign raw', reason: 'jpeg xl' },
  { code: 'cannot decode', kind: 'heic' },
  { code: 'cannot decode', kind: 'tiff' },
  { code: 'cannot decode', kind: 'jxl' },
  { code: 'cannot decode', kind: 'avif' },
  { code: 'out of memory', megapixels: 64 },
  { code: 'altered pixels' },
  { code: 'raw needs isolation' },
  { code: 'raw decoder missing' },
  { code: 'practice missing' },
]

describe('sentences about photos that were not opened', () => {
  test('each says what was given and what to do, and no two say the same', () => {
    const told = refusals.map((refusal) => refusalSentence(new PhotoRefused(refusal), 'bar.jpg'))
    for (const { weight, title, todo } of told) {
      expect(weight).toBe('stop')
      expect(title).not.toMatch(/undefined|NaN|\.$/)
      expect(todo).toMatch(/^[A-Z0-9].*\.$/)
      expect(todo).not.toMatch(/undefined|NaN/)
    }
    expect(new Set(told.map(({ title, todo }) => title + todo)).size).toBe(told.length)
  })

  test('numbers are those of the file, and the limit stands beside them', () => {
    const of = (refusal: PhotoRefusal) => refusalSentence(new PhotoRefused(refusal), 'bar.jpg')
    const large = of({ code: 'too many pixels', megapixels: 108, allowedMegapixels: 100 })
    expect(large.title).toContain('108 megapixels')
    expect(large.todo).toContain('100 megapixels')
    expect(of({ code: 'no pixels', width: 0, height: 7 }).todo).toContain('0 × 7')
    expect(of({ code: 'truncated', kind: 'jpeg', bytes: 81_234 }).todo).toContain('81 kB')
  })

  test('an unexpected failure is told as one', () => {
    expect(refusalSentence(new TypeError('x'), 'bar.jpg').title).toContain('bar.jpg')
  })
})

test('notes about how a photo was read name what was found', () => {
  const notes: PhotoNote[] = [
    { code: 'gain map' },
    { code: 'converted space', profileName: 'wide green' },
    { code: 'wide gamut lost' },
    { code: 'eight bits', bitsPerSample: 10 },
  ]
  const told = notes.map(photoNotice)
  expect(told.every(({ title, todo }) => title !== '' && /\.$/.test(todo))).toBe(true)
  expect(told[1]?.title).toContain('wide green')
  expect(told[3]?.title).toContain('10 bits')
})
