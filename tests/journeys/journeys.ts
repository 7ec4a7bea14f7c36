import { readFileSync } from 'node:fs'
import { encode as encodePng } from 'fast-png'
import { unzipSync } from 'fflate'
import { expect } from 'vitest'
import { slowness } from '../../scripts/machine-speed.mjs'
import { onceFor } from '../../src/numerics/once-for.ts'
import { practiceSpectra } from '../../src/sources/practice/practice-spectra.ts'
import { decodeJpeg } from '../decode-jpeg.ts'
import { sweepPhotos } from '../making/sweep-photos.ts'
import { P3_COLORANTS, writeIccProfile } from '../making/write-icc.ts'
import { photoPath } from '../measured-data.ts'
import { dngOf, forgeMosaic } from '../sources/raw/forge-dng.ts'
import type { App, GivenFile } from './app.ts'
import { figure, practicePhoto, putAway, saveReading } from './steps.ts'

/** A walk through the app; what it returns is a figure that must be the same in every engine. */
export type Journey = (app: App) => Promise<string | undefined>

const jpeg = (bytes: Uint8Array, name = 'glow.jpg'): GivenFile => ({
  name,
  type: 'image/jpeg',
  bytes,
})
const photo = (name: string) => new Uint8Array(readFileSync(photoPath(name)))
const practice = () =>
  jpeg(new Uint8Array(readFileSync(new URL('../../dist/practice/forge-bar.jpg', import.meta.url))))

/** The same codes said to be Display P3, as most phones of one maker store them. */
function inDisplayP3(file: Uint8Array): Uint8Array {
  const profile = writeIccProfile('Display P3', P3_COLORANTS, 'parametric')
  const head = new TextEncoder().encode('ICC_PROFILE\0')
  const length = 2 + head.length + 2 + profile.length
  const segment = [0xff, 0xe2, length >> 8, length & 255, ...head, 1, 1, ...profile]
  return new Uint8Array([...file.subarray(0, 2), ...segment, ...file.subarray(2)])
}

/** The same picture with 16 bits a channel. */
function deepPng(file: Uint8Array): GivenFile {
  const { width, height, data } = decodeJpeg(file)
  const deep = Uint16Array.from(data, (code) => 257 * code)
  const bytes = encodePng({ width, height, channels: 3, depth: 16, data: deep })
  return { name: 'glow.png', type: 'image/png', bytes }
}

const readPhotos =
  (
    files: () => readonly GivenFile[],
    more: (app: App) => Promise<void> = async () => {},
  ): Journey =>
  async (app) => {
    await app.open()
    await app.giveFiles(files(), 'image')
    await figure(app)
    await more(app)
    const read = await figure(app)
    await putAway(app)
    return read
  }

const asCavity = async (app: App) => {
  await app.press('What it is, how it was taken')
  await app.choose('White balance of the photo', 'daylight')
  await app.choose('Surface', 'cavity')
}

const STOPS = [0, -1.5, -3, -4.5, -6, -7.5]
/** Made once for all engines: it takes seconds. */
const madeSweep = onceFor((stops: readonly number[]) => sweepPhotos(stops))

const GLOW = photo('set1-glow-3.jpg')

/** By title. */
export const JOURNEYS: Record<string, Journey> = {
  'an sRGB photo is read': readPhotos(() => [jpeg(GLOW)]),

  'a Display P3 photo is read': readPhotos(() => [jpeg(inDisplayP3(GLOW))]),

  'a photo is read with a grey card': readPhotos(
    () => [jpeg(GLOW)],
    async (app) => {
      await asCavity(app)
      await app.giveFiles([jpeg(photo('set1-card.jpg'), 'card.jpg')], 'Open a photo of the card')
      // The card's picker stands there before the card is measured; keeping it is offered after.
      await app.see('Keep this card in the kit as')
      await app.choose('Light on the card', 'D65')
    },
  ),

  'an exposure sweep is read': readPhotos(
    () => madeSweep(STOPS).map(({ bytes, name }) => jpeg(bytes, name)),
    async (app) => {
      await app.see('Exposure sweep')
      await asCavity(app)
    },
  ),

  'a raw photo is read': readPhotos(() => {
    const size = { width: 300, height: 226 }
    const bytes = new Uint8Array(dngOf(forgeMosaic(size.width, size.height), size))
    return [{ name: 'glow.dng', type: 'image/x-adobe-dng', bytes }]
  }),

  // Parts that the photo's worker loads when they are needed.
  'a HEIC photo is read': readPhotos(() => [
    {
      name: 'glow.heic',
      type: 'image/heic',
      bytes: new Uint8Array(readFileSync(new URL('../data/heic/glow.heic', import.meta.url))),
    },
  ]),

  'a photo of 16 bits is read': readPhotos(() => [deepPng(GLOW)]),

  'a known heat is kept in the kit': async (app) => {
    await app.open('/kit/known-heat/thermocouple')
    await app.fill('It shows', '920')
    await app.giveFiles([practice()], 'image')
    await app.choose('White balance of the photo', 'daylight')
    await app.choose('Surface that is read', 'cavity')
    const worth = await figure(app, '[aria-busy=false] .kit_narrows')
    await app.press('Keep in the kit')
    await app.see('Kept in the kit.')
    await app.open('/kit')
    await app.see('Thermocouple')
    return worth
  },

  'a spectrum is read': async (app) => {
    const { lamp, glow } = practiceSpectra()
    const table = (name: string, text: string): GivenFile => ({
      name,
      type: 'text/csv',
      bytes: new TextEncoder().encode(text),
    })
    await app.open('/reading/spectrum')
    await app.giveFiles([table('lamp.csv', lamp.text)], 'csv')
    await app.see(/Trusted from/)
    await app.press('On to the glow')
    await app.giveFiles([table('glow.csv', glow.text)], 'csv')
    const shown = () => figure(app, '.temperature:not(.lamp_lamp)')
    const ofUnknownSurface = await shown()
    await app.choose('Surface', 'cavity')
    // Computed in a worker: the former figure stands until then.
    await expect.poll(shown, { timeout: 40_000 * slowness() }).not.toBe(ofUnknownSurface)
    return shown()
  },

  'the chart leaves as a picture and as a drawing': async (app) => {
    await app.open('/chart')
    await app.catchFiles()
    await app.press(/^SVG$/)
    const drawing = await app.leftFile()
    expect(new TextDecoder().decode(drawing.bytes)).toContain('</svg>')
    await app.press(/^PNG$/)
    const picture = await app.leftFile()
    expect([...picture.bytes.subarray(1, 4)]).toEqual([0x50, 0x4e, 0x47])
    return undefined
  },

  'the log leaves as a file, is emptied, and comes back': async (app) => {
    await app.open()
    await practicePhoto(app)
    await saveReading(app)
    await putAway(app)
    await app.open('/log/keeping')
    await app.catchFiles()
    await app.press(/^ZIP$/)
    await app.press('Make the file')
    await app.press('Save it')
    const file = await app.leftFile()
    const parts = Object.entries(unzipSync(file.bytes))
    expect(parts.some(([name]) => /log.*\.json$/.test(name))).toBe(true)
    await app.press('Empty the log')
    await app.fill('to go on', 'empty')
    // The fold is called like its button.
    await app.run("document.querySelector('details[open] button.danger').click()")
    await app.see('The log is empty.')
    await app.giveFiles([file], 'zip')
    await app.press('Import it')
    await app.see(/Imported: \d+ added/)
    await app.open('/log')
    await app.textOf('.log_log-row')
    return undefined
  },
}
