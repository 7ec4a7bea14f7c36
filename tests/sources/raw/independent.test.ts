import { execFileSync, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { dngOf, forgeMosaic } from './forge-dng.ts'
import { losslessJpeg } from './lossless-jpeg.ts'

/** Debian's dcraw, a reader of raw files that shares no code with this project. */
const dcraw = spawnSync('dcraw').error === undefined

describe.skipIf(!dcraw)(
  'DNG files made here, read by dcraw (skipped where it is not installed)',
  () => {
    const [width, height] = [120, 90]
    const samples = forgeMosaic(width, height)
    const inFolder = <T>(bytes: Uint8Array, use: (path: string) => T): T => {
      const folder = mkdtempSync(join(tmpdir(), 'glowbook-dng-'))
      const path = join(folder, 'made.dng')
      writeFileSync(path, bytes)
      try {
        return use(path)
      } finally {
        rmSync(folder, { recursive: true })
      }
    }

    test.each([
      ['uncompressed', {}],
      ['as lossless JPEG', { compressed: losslessJpeg(samples, width, height) }],
    ])('%s: every sample is the same', (_, options) => {
      // -D: no interpolation, no scaling; -4: 16 bits; -c: to standard output, as PGM.
      const pgm = inFolder(dngOf(samples, { width, height, ...options }), (path) =>
        execFileSync('dcraw', ['-D', '-4', '-c', path]),
      )
      const header = `P5\n${width} ${height}\n65535\n`
      expect(pgm.subarray(0, header.length).toString('latin1')).toBe(header)
      const read = Uint16Array.from({ length: width * height }, (_, i) =>
        pgm.readUInt16BE(header.length + 2 * i),
      )
      expect(read).toEqual(samples)
    })

    test('pattern, size and exposure are understood alike', () => {
      const told = inFolder(dngOf(samples, { width, height }), (path) =>
        execFileSync('dcraw', ['-i', '-v', path], { encoding: 'utf8' }),
      )
      expect(told).toMatch(/Filter pattern: RG\/GB/)
      expect(told).toMatch(/Full size:\s+120 x 90/)
      expect(told).toMatch(/Shutter: 1\/125.0 sec/)
      expect(told).toMatch(/ISO speed: 50/)
    })
  },
)
