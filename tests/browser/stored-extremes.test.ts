import * as v from 'valibot'
import { kitItem } from '../../src/log/schema/kit-schema.ts'
import { reading } from '../../src/log/schema/reading-schema.ts'
import type { KitItem, Reading } from '../../src/log/schema/types.ts'
import { sortKit } from '../../src/session/kit/sort-kit.ts'
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
    atEdges(sample, EDGES, fits),
    atEdges(sample, [...EDGES].reverse(), fits),
    ...HOSTILE.map((name) => named(sample, name, fits)),
  ].map((one, i) => ({ ...one, id: sampleId(first + i) }))

const readings = variants(SAMPLE_READING, soundReading, 1)
const kit = SAMPLE_KIT.flatMap((item, i) => variants(item, soundItem, 100 + 20 * i))

test('numbers at their ends and hostile names show on every screen as what they are', async ({
  visit,
}) => {
  const page = await visit('/log/keeping')
  const file = {
    schema: 'glowbook-log',
    version: 2,
    exportedAt: '2026-04-01T00:00:00Z',
    readings,
    kit,
  }
  await page.locator('main.log_log input[type=file]').setInputFiles({
    name: 'log.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(file)),
  })
  await page.getByRole('button', { name: 'Import it' }).click()
  await page.getByText(/^Imported/).waitFor()
  const [low, high] = readings.map(({ id }) => id)
  const places = [
    '/log',
    ...readings.map(({ id }) => `/log/${id}`),
    `/log/pair/${low}/${high}`,
    ...HOSTILE.map((name) => `/log/series/${name}`),
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
    await expect.poll(() => page.locator('[aria-busy=true]:visible').count()).toBe(0)
    const seen = await page.evaluate((width) => {
      for (const panel of document.querySelectorAll('details')) panel.open = true
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
    const found = /.{0,40}(NaN|Infinity|undefined|\de\+?\d|native code|\[object).{0,20}/.exec(
      seen.text,
    )
    if (found) wrong.push(`${place}: shows “${found[0]}”`)
    if (seen.wide.length > 0) wrong.push(`${place}: wider than the screen: ${seen.wide.join(', ')}`)
  }
  expect(wrong).toEqual([])
})
