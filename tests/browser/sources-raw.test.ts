import { describe } from 'vitest'
import { decodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { SCENE, TRUE_PLACES } from '../../src/sources/practice/forge-scene.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { BLACK, dngOf, forgeMosaic, WHITE } from '../sources/raw/forge-dng.ts'
import { losslessJpeg } from '../sources/raw/lossless-jpeg.ts'
import { expect } from './harness.ts'
import { asText, test } from './sources-harness.ts'

const size = { width: 600, height: 450 }
const samples = forgeMosaic(size.width, size.height)

describe('a raw photo', () => {
  test.for([
    ['uncompressed', {}],
    ['as lossless JPEG', { compressed: losslessJpeg(samples, size.width, size.height) }],
  ] as const)(
    '%s comes back sample by sample: linear, black taken off, not balanced',
    async ([, options], { sourcesPage }) => {
      const page = await sourcesPage()
      const read = await page.evaluate(
        async ({ text, samples, black, white }) => {
          const bytesOf = (base64: string) => Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
          const photo = await sources.openPicture(new Blob([bytesOf(text)]))
          const { width, height, channels, facts } = photo
          const { rgb } = await photo.readLight({ shape: 'rectangle', x: 0, y: 0, width, height })
          photo.close()
          const given = new Uint16Array(bytesOf(samples).buffer)
          let worst = 0
          for (let y = 0, i = 0; y < height; y++) {
            for (let x = 0; x < width; x++) {
              const at = (dx: number, dy: number) => given[(2 * y + dy) * 2 * width + 2 * x + dx]!
              for (const sample of [at(0, 0), (at(1, 0) + at(0, 1)) / 2, at(1, 1)]) {
                worst = Math.max(worst, Math.abs(rgb[i++]! - (sample - black) / (white - black)))
              }
            }
          }
          return { width, height, channels, facts, worst }
        },
        {
          text: asText(dngOf(samples, { ...size, ...options })),
          samples: asText(new Uint8Array(samples.buffer)),
          black: BLACK,
          white: WHITE,
        },
      )
      expect(read).toMatchObject({ width: 300, height: 225, channels: 'camera' })
      expect(read.facts).toMatchObject({ iso: 50, fNumber: 1.8, takenAt: '2026-01-02T03:04:05' })
      // Float32 leaves 6e-8 of 1.
      expect(read.worst).toBeLessThan(1e-7)
    },
  )

  test('with lossy samples of 8 bits is as bright as it was stored', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const side = 64
    const codes = new Uint8Array(3 * side * side).map((_, i) => [200, 90, 40][i % 3]!)
    const file = dngOf(new Uint16Array(), {
      width: side,
      height: side,
      layout: 'linear',
      bits: 8,
      compression: 34892,
      black: [0],
      white: 255,
      compressed: encodeJpeg(codes, side, side, { quality: 98, halvedColour: false }),
    })
    const light = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPicture(new Blob([bytes]))
      const { rgb } = await photo.readLight({
        shape: 'rectangle',
        x: 8,
        y: 8,
        width: 48,
        height: 48,
      })
      photo.close()
      return Array.from(rgb.slice(0, 3))
    }, asText(file))
    // Without a table of its own such a file is coded by the sRGB curve (LibRaw's reading of it).
    for (const [i, code] of [200, 90, 40].entries())
      expect(Math.abs(light[i]! - decodeTransfer(code / 255))).toBeLessThan(0.002)
  })

  test('is found, measured, balanced on a raw card, and its truth lies in the interval', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    const half = (v: number) => v / (1200 / 300)
    const cardRegion = {
      shape: 'rectangle',
      x: half(TRUE_PLACES.card.x),
      y: half(TRUE_PLACES.card.y),
      width: half(TRUE_PLACES.card.width),
      height: half(TRUE_PLACES.card.height),
    } as const
    const reading = await page.evaluate(
      async ({ text, cardRegion }) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
        const photo = await sources.openPicture(new Blob([bytes]))
        const light = { kind: 'daylight', illuminant: 'D65' } as const
        const glow = await photo.measure(photo.proposal!)
        const card = await photo.measureGrey(cardRegion, light)
        const balance = sources.balanceFromGrey({
          card: card.card,
          light,
          channels: photo.channels,
        })
        const picture = await photo.regionPicture(photo.proposal!)
        const marks = await photo.marks()
        const input = {
          glow: glow.glow,
          channels: photo.channels,
          balance: { id: 'card', ...balance },
          balanceState: { kind: 'raw', colourTemperatureK: null },
          linearity: { kind: 'raw' },
          quality: glow.quality,
          surface: { id: 'black', lnGreenOverRed: 0, standardUncertainty: 0 },
          window: null,
          cameraId: 'practice',
          takenAt: null,
          references: [],
        } as const
        const result = {
          proposal: photo.proposal,
          refused: [glow.refused, card.refused],
          picture: { type: picture.blob.type, width: picture.width, height: picture.height },
          marks,
          withMatrix: sources.estimateGlow({ ...input, cameraToXyz: photo.cameraToXyz }),
          without: sources.estimateGlow({ ...input, cameraToXyz: null }),
        }
        photo.close()
        return result
      },
      { text: asText(dngOf(samples, size)), cardRegion },
    )
    expect(reading.refused).toEqual([false, false])
    expect(reading.marks).toBeNull()
    expect(reading.picture.type).toBe('image/jpeg')
    expect(reading.proposal!.x).toBeGreaterThan(half(450))
    expect(reading.proposal!.x + reading.proposal!.width).toBeLessThan(half(820))
    for (const estimate of [reading.withMatrix, reading.without]) {
      if (estimate.kind !== 'temperature') throw new Error(`no temperature: ${estimate.kind}`)
      console.log(
        `raw: ${estimate.temperatureK.toFixed(1)} K, u ${estimate.standardUncertaintyK.toFixed(1)} K`,
      )
      expect(estimate.interval95K[0]).toBeLessThan(SCENE.temperatureK)
      expect(estimate.interval95K[1]).toBeGreaterThan(SCENE.temperatureK)
    }
  })

  test('with three samples a pixel comes back as exactly', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const linear = Uint16Array.from({ length: 3 * 40 * 30 }, (_, i) => 600 + ((i * 131) % 9000))
    const file = dngOf(linear, { width: 40, height: 30, layout: 'linear', black: [512, 512, 512] })
    const rgb = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPicture(new Blob([bytes]))
      const light = await photo.readLight({
        shape: 'rectangle',
        x: 0,
        y: 0,
        width: 40,
        height: 30,
      })
      photo.close()
      return [...light.rgb]
    }, asText(file))
    const worst = Math.max(
      ...rgb.map((v, i) => Math.abs(v - (linear[i]! - BLACK) / (WHITE - BLACK))),
    )
    expect(worst).toBeLessThan(1e-7)
  })

  const sound = dngOf(samples, size)
  test.for([
    ['cut off', 'truncated', sound.subarray(0, sound.length - 100)],
    [
      'of another pattern',
      'foreign raw',
      dngOf(samples, { ...size, pattern: [0, 1, 1, 1] as const }),
    ],
    [
      'of an unknown compression',
      'foreign raw',
      withField(sound, 259, 52546), // JPEG XL, newer than the decoder
    ],
  ] as const)('%s is refused as %s', async ([, code, bytes], { sourcesPage }) => {
    const page = await sourcesPage()
    const refused = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      return sources.openPicture(new Blob([bytes])).then(
        () => 'opened',
        (error) => error.refusal?.code ?? String(error),
      )
    }, asText(bytes))
    expect(refused).toBe(code)
  })

  test('opening can be cancelled', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const outcome = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const abort = new AbortController()
      const opening = sources.openPicture(new Blob([bytes]), {
        signal: abort.signal,
        onProgress: () => abort.abort(),
      })
      return opening.then(
        () => 'opened',
        (error) => error.name,
      )
    }, asText(sound))
    expect(outcome).toBe('AbortError')
  })
})

/** The file with one short field of its main directory set to another value. */
function withField(file: Uint8Array, tag: number, value: number): Uint8Array {
  const copy = file.slice()
  const view = new DataView(copy.buffer)
  for (let at = 10, n = view.getUint16(8, true); n > 0; n--, at += 12) {
    if (view.getUint16(at, true) === tag) view.setUint16(at + 8, value, true)
  }
  return copy
}
