import { strToU8, zipSync } from 'fflate'
import * as v from 'valibot'
import { emptyColumns } from '../../src/log/recordings/columns.ts'
import {
  COLUMN_RANGES,
  recordingCsv,
  recordingFromFiles,
} from '../../src/log/recordings/recording-csv.ts'
import { recordingHead } from '../../src/log/recordings/recording-schema.ts'
import { kitItem } from '../../src/log/schema/kit-schema.ts'
import { reading } from '../../src/log/schema/reading-schema.ts'
import type { Json, KitItem, Reading } from '../../src/log/schema/types.ts'
import { sortKit } from '../../src/session/kit/sort-kit.ts'
import { storedMap } from '../../src/session/log/stored-map.ts'
import { storedDetails } from '../../src/session/recording/recording-details.ts'
import { MAP_WORDS } from '../../src/ui/words/heat-map.ts'
import {
  MAP_DETAILS,
  RECORDING_DETAILS,
  RECORDING_HEAD,
  RESPONSES,
  WHOLE_CAMERA,
} from '../screens/all-samples.ts'
import {
  leavesOf,
  numbersOf,
  SAMPLE_KIT,
  SAMPLE_READING,
  sampleId,
  withLeaf,
} from '../screens/stored-samples.ts'
import { expect, test } from './harness.ts'

/**
 * A file of which every number stands at an end of its range and every name is hostile, on every
 * screen. Each number for itself: tests/screens/stored-numbers.test.tsx.
 */

const EDGES = [1e-12, 1e-9, 1e-6, 1e-3, 1, 50, 100, 1000, 20_000, 1e6, 1e7, 1e9, 1e12]
const up = EDGES
const down = [...EDGES].reverse()
const LONG = 'Unbroken'.repeat(24)
const HOSTILE = ['constructor', '__proto__', 'toString', 'hasOwnProperty', LONG.slice(0, 120)]

/** Every number as low or as high as its schema takes it. */
function atEdges<T extends object>(
  sample: T,
  edges: readonly number[],
  fits: (one: T) => boolean,
): T {
  let now = sample
  for (const path of numbersOf(sample)) {
    const edge = edges.find((number) => fits(withLeaf(now, path, number)))
    if (edge !== undefined) now = withLeaf(now, path, edge)
  }
  return now
}
/** Every text is this one, where that is allowed. */
function named<T extends object>(sample: T, name: string, fits: (one: T) => boolean): T {
  let now = sample
  for (const path of leavesOf(sample, 'string')) {
    const changed = withLeaf(now, path, name)
    if (path.at(-1) !== 'device' && fits(changed)) now = changed
  }
  return now
}

const soundReading = (one: Reading) => v.is(reading, one)
const soundItem = (one: KitItem) => v.is(kitItem, one) && sortKit([one]).unreadable.length === 0
const variants = <T extends { id: string }>(
  sample: T,
  fits: (one: T) => boolean,
  first: number,
): T[] =>
  [
    atEdges(sample, up, fits),
    atEdges(sample, down, fits),
    ...HOSTILE.map((name) => named(sample, name, fits)),
  ].map((one, i) => ({ ...one, id: sampleId(first + i) }))

const [lowMap, highMap] = [up, down].map((edges) =>
  atEdges(MAP_DETAILS as object, edges, (one) => storedMap(one as Json) !== null),
)
const readings = variants(SAMPLE_READING, soundReading, 1).map((one, i) => ({
  ...one,
  details: ((i === 0 ? lowMap : i === 1 ? highMap : null) ?? MAP_DETAILS) as Json,
}))
const kit = [...SAMPLE_KIT, WHOLE_CAMERA, ...RESPONSES].flatMap((item, i) =>
  variants(item, soundItem, 100 + 20 * i),
)

/** Recordings whose readings have gaps and stand at their ends. */
const recordings = [up, down].map((edges, i) => {
  const columns = emptyColumns(40)
  for (const of of ['temperatureK', 'noiseK', 'commonK', 'lnRatio', 'lnRed'] as const)
    for (let k = 0; k < 40; k++) {
      columns.ms[k] = (k + 1) * (i === 0 ? 1 : 1e6)
      const fits = edges.find((edge) => v.is(COLUMN_RANGES[of], edge))!
      columns[of][k] =
        k % 7 === 3 ? Number.NaN : k % 2 === 0 ? fits : of === 'temperatureK' ? 1200 : 1
    }
  const head = named(
    { ...RECORDING_HEAD, id: sampleId(301 + i) },
    i === 0 ? '__proto__' : LONG.slice(0, 60),
    (one) => v.is(recordingHead, one),
  )
  const details = atEdges(
    RECORDING_DETAILS as object,
    edges,
    (one) => storedDetails(one as Json).looks.length > 0,
  )
  const csv = recordingCsv({ columns })
  const metadata = JSON.stringify({ notes: [{ recording: head, details }] })
  return { ...recordingFromFiles(csv, metadata), csv, metadata }
})
const filesOf = (all: typeof recordings) =>
  Object.fromEntries(
    all.flatMap(({ head: { id }, csv, metadata }) => [
      [`recordings/${id}.csv`, strToU8(csv)],
      [`recordings/${id}.csv-metadata.json`, strToU8(metadata)],
    ]),
  )

test('numbers at their ends and hostile names show on every screen as what they are', async ({
  visit,
}) => {
  const page = await visit('/log/keeping')
  const log = {
    schema: 'glowbook-log',
    version: 2,
    exportedAt: '2026-04-01T00:00:00Z',
    readings,
    kit,
  }
  await page.locator('main.log_log input[type=file]').setInputFiles({
    name: 'log.zip',
    mimeType: 'application/zip',
    buffer: Buffer.from(
      zipSync({ 'log.json': strToU8(JSON.stringify(log)), ...filesOf(recordings) }),
    ),
  })
  await page.getByRole('button', { name: 'Import it' }).click()
  await page.getByText(/^Imported/).waitFor()
  const [low, high] = readings.map(({ id }) => id)
  const places = [
    '/log',
    ...readings.map(({ id }) => `/log/${id}`),
    `/log/pair/${low}/${high}`,
    ...HOSTILE.map((name) => `/log/series/${name}`),
    '/log/recordings',
    ...recordings.map(({ head: { id } }) => `/log/recordings%2F${id}`),
    `/log/recordings%2F${recordings.map(({ head: { id } }) => id).join('%2F')}`,
    '/kit',
    '/kit/ready',
    '/kit/known-heat',
    '/kit/lamp',
    '/reading/check',
    '/reading/spectrum',
    '/reading/live',
    '/chart',
    '/safety',
  ]
  const wrong: string[] = []
  for (const place of places) {
    await page.evaluate((path) => {
      const link = document.createElement('a')
      link.href = path
      document.body.append(link)
      link.click()
      link.remove()
    }, place)
    await page.locator('h1:visible').first().waitFor()
    const busy = page.locator('[aria-busy=true]:visible').or(page.getByText(MAP_WORDS.making))
    await expect.poll(() => busy.count()).toBe(0)
    // What opens may bring more to open.
    for (let depth = 0; depth < 2; depth++) {
      await page.evaluate(() => {
        for (const panel of document.querySelectorAll('details')) panel.open = true
      })
      await expect.poll(() => busy.count()).toBe(0)
    }
    const seen = await page.evaluate((width) => {
      return new Promise<{ text: string; wide: string[] }>((done) => {
        requestAnimationFrame(() =>
          requestAnimationFrame(() => {
            const fits = document.documentElement.scrollWidth <= width
            const over = [...document.querySelectorAll('main *')].filter(
              (one) => !fits && one.getBoundingClientRect().right > width + 1,
            )
            done({
              text: document.body.textContent,
              wide: over.map((one) => `${one.tagName}.${one.className}`).slice(0, 3),
            })
          }),
        )
      })
    }, 390)
    const found =
      /.{0,40}(NaN|Infinity|± –|– ±|– °C|undefined|\de\+?\d|native code|\[object).{0,20}/.exec(
        seen.text,
      )
    if (found) wrong.push(`${place}: shows “${found[0]}”`)
    if (seen.wide.length > 0) wrong.push(`${place}: wider than the screen: ${seen.wide.join(', ')}`)
  }
  expect(wrong).toEqual([])
})
