import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { env } from 'node:process'
import type { Page } from 'playwright-core'
import type { Log } from '../browser/log-page/main.ts'
import { logSite } from '../browser/log-site.ts'
import { readFixture } from '../log/fixture-database.ts'
import type { Bench, Figure } from './figure.ts'
import { kill, openBrowser } from './killed-browser.ts'

declare global {
  var log: Log
}

/** Kills of each kind; 25 where the environment does not say. */
const { GLOWBOOK_KILLS = '25' } = env
/** Readings of one import. */
const IMPORTED = 150

/** What the page has reported as done. */
interface Told {
  /** Reading ids, each with the last note that was reported saved, or 'removed'. */
  readonly readings: Map<string, string>
  /** Kit ids, each with its last name, or 'removed'. */
  readonly kit: Map<string, string>
  /** Imports that were merged. */
  readonly imports: Set<string>
  /** The last number of a setting. */
  setting: number
}

const found = {
  missing: 0,
  stale: 0,
  damaged: 0,
  withoutPicture: 0,
  kit: 0,
  settings: 0,
  halfImports: 0,
  lostImports: 0,
  upgrades: 0,
  restored: 0,
  lossTold: 0,
}
type Found = typeof found

/**
 * The browser is killed at a random moment while work of all kinds goes on: readings saved with
 * pictures, edited, deleted and restored, kit, settings, imports, a log of a former version upgraded.
 * Whatever was reported done must be there afterwards, and nothing half. (Killing a process leaves the
 * system's disk cache alone: the pulled plug is the disk's and the flush's matter.)
 */
export const bench: Bench = async ({ short }) =>
  short
    ? killed('whole process group', 1)
    : [
        ...(await killed('main process', Number(GLOWBOOK_KILLS))),
        ...(await killed('whole process group', Number(GLOWBOOK_KILLS))),
      ]

async function killed(what: 'main process' | 'whole process group', rounds: number) {
  const profile = await mkdtemp(join(tmpdir(), 'glowbook-kill-'))
  const { url, end } = await logSite()
  const told: Told = { readings: new Map(), kit: new Map(), imports: new Set(), setting: 0 }
  const sum: Found = { ...found }
  let kills = 0
  try {
    for (let round = 0; round <= rounds; round++) {
      const { browser, page } = await openBrowser(profile, url)
      await check(page, told, sum, round)
      if (round === rounds) {
        await browser.close()
        kill(profile, what)
        break
      }
      await work(page, told, round)
      const atMs = rounds === 1 ? 500 : 100 + 1400 * Math.random()
      await new Promise((resolve) => setTimeout(resolve, atMs))
      kills++
      kill(profile, what)
      await browser.close().catch(() => {})
    }
  } finally {
    kill(profile, what)
    await end()
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 })
  }
  const none = (name: string, value: number): Figure => ({
    name: `${what}: ${name}`,
    value,
    unit: '',
    target: { atMost: 0 },
  })
  return [
    { name: `${what}: kills while working`, value: kills, unit: '' },
    { name: `${what}: readings reported saved`, value: told.readings.size, unit: '' },
    { name: `${what}: imports reported merged`, value: told.imports.size, unit: '' },
    { name: `${what}: databases lost and restored`, value: sum.restored, unit: '' },
    none('losses told', sum.lossTold),
    none('readings missing', sum.missing),
    none('readings without their last saved note', sum.stale),
    none('readings without their picture', sum.withoutPicture),
    none('damaged or half records', sum.damaged),
    none('kit items not as reported', sum.kit),
    none('settings not as reported', sum.settings),
    none('half imports', sum.halfImports),
    none('imports lost', sum.lostImports),
    none('upgrades not whole', sum.upgrades),
  ]
}

/** Everything that was reported is there and whole; so is everything else. */
async function check(page: Page, told: Told, sum: Found, round: number): Promise<void> {
  const seen = await page.evaluate(
    async ({ readings, kit, imports, setting, imported, before }) => {
      globalThis.log = await logPage.openLog()
      const log = globalThis.log
      const status = await log.status()
      if (status.restored !== null || status.missing !== null) log.dismissMissing()
      const damaged = await log.check()
      const result = {
        missing: 0,
        stale: 0,
        damaged: damaged.length,
        withoutPicture: 0,
        kit: 0,
        settings: 0,
        halfImports: 0,
        lostImports: 0,
        upgrades: 0,
        restored: status.restored === null ? 0 : 1,
        lossTold: status.missing === null ? 0 : 1,
      }
      const number = (text: string) => Number(text.split(' ')[1])
      const removed = new Set((await log.removed()).map((summary) => summary.id))
      for (const [id, note] of readings) {
        if (note === 'removed') {
          if (!removed.has(id)) result.missing++
          continue
        }
        const stored = await log.get(id)
        if (stored?.state !== 'sound') {
          // Its removal may have been saved and the process killed before it could say so.
          if (!removed.has(id)) result.missing++
          continue
        }
        if (number(stored.reading.notes) < number(note)) result.stale++
        if ((await log.picture(id)) === undefined) result.withoutPicture++
      }
      for (const [id, name] of kit) {
        const item = await log.kit.get(id)
        // A removal or a restoring that was not reported may have been saved.
        if (item !== undefined && name !== 'removed' && number(item.name) < number(name)) {
          result.kit++
        }
        if (item === undefined && name.endsWith('sure')) result.kit++
      }
      const stored = await log.settings.get('number')
      if (Number(stored ?? 0) < setting) result.settings++
      const counts = new Map<string, number>()
      for (const { object } of (await log.find()).summaries()) {
        if (object.startsWith('import ')) counts.set(object, (counts.get(object) ?? 0) + 1)
      }
      for (const count of counts.values()) if (count !== imported) result.halfImports++
      for (const name of imports) if (!counts.has(name)) result.lostImports++
      const listed = (await log.find()).count
      if (listed !== (await log.count()) || listed !== (await log.newest(1e6)).length) {
        result.damaged++
      }
      if (before !== null) {
        const old = await logPage.openLog({ name: before })
        if ((await old.count()) !== 7) result.upgrades++
        old.close()
      }
      return result
    },
    {
      readings: [...told.readings],
      kit: [...told.kit],
      imports: [...told.imports],
      setting: told.setting,
      imported: IMPORTED,
      before: round > 0 && (round - 1) % 5 === 0 ? `old ${round - 1}` : null,
    },
  )
  for (const name of Object.keys(sum) as (keyof Found)[]) sum[name] += seen[name]
}

interface Teller {
  tell(kind: 'reading' | 'kit' | 'import' | 'setting', id: string, note: string): void
}

/** Writers of all kinds that report each change once it is said to be done; returns at once. */
async function work(page: Page, told: Told, round: number): Promise<void> {
  await page.exposeFunction('tell', (kind: string, id: string, note: string) => {
    if (kind === 'reading') told.readings.set(id, note)
    if (kind === 'kit') told.kit.set(id, note)
    if (kind === 'import') told.imports.add(id)
    if (kind === 'setting') told.setting = Number(note)
  })
  if (round % 5 === 0) await putOldLog(page, `old ${round}`)
  await page.evaluate(
    ({ round, imported, setting, upgrading }) => {
      const { tell } = globalThis as unknown as Teller
      const { method, result, inputs } = logPage.madeUpReading(1)
      const canvas = new OffscreenCanvas(64, 64)
      canvas.getContext('2d')?.fillRect(0, 0, 30, 64)

      const saves = async () => {
        const blob = await canvas.convertToBlob({ type: 'image/jpeg' })
        for (let n = 0; ; n++) {
          const draft = { method, result, inputs, notes: 'note 0' }
          const { id } = await log.add(draft, { blob, width: 64, height: 64 })
          tell('reading', id, 'note 0')
          if (n % 3 === 1) {
            await log.edit(id, { notes: 'note 1' })
            tell('reading', id, 'note 1')
          }
          if (n % 10 === 9) {
            const undo = await log.remove([id])
            tell('reading', id, 'removed')
            if (n % 20 === 19) {
              // Until the restoring is reported, both would be right.
              tell('reading', id, 'note 0')
              await log.restore(undo)
            }
          }
        }
      }
      const keepsKit = async () => {
        for (let n = 0; ; n++) {
          const { id } = await log.kit.add({ kind: 'camera', name: 'Camera 0', data: { n } })
          tell('kit', id, n % 2 ? 'Camera 0 sure' : 'Camera 0')
          if (n % 2) continue
          await log.kit.change(id, { name: 'Camera 1' })
          tell('kit', id, 'Camera 1')
          const undo = await log.kit.remove([id])
          if (n % 4) await log.kit.restore(undo)
        }
      }
      const sets = async () => {
        for (let n = setting + 1; ; n++) {
          await log.settings.set('number', n)
          tell('setting', '', String(n))
        }
      }
      const imports = async () => {
        for (let n = 0; ; n++) {
          const name = `import ${round}-${n}`
          const readings = Array.from({ length: imported }, (_, i) => {
            const made = logPage.madeUpReading(1e6 + (round * 100 + n) * imported + i)
            return { ...made, object: name }
          })
          const text = JSON.stringify({ schema: 'glowbook-log', version: 2, readings, kit: [] })
          const preview = await log.readFile(new Blob([text]))
          if (n % 4 === 3) {
            await preview.discard()
            continue
          }
          await preview.merge({ conflicts: 'mine' })
          tell('import', name, '')
        }
      }
      if (upgrading) void logPage.openLog({ name: `old ${round}` })
      for (let i = 0; i < 3; i++) void saves()
      void keepsKit()
      void sets()
      void imports()
    },
    { round, imported: IMPORTED, setting: told.setting, upgrading: round % 5 === 0 },
  )
}

/** A log of the first version, to be upgraded while the browser is killed. */
async function putOldLog(page: Page, name: string): Promise<void> {
  const plain = readFixture(1).stores.map((store) => ({
    name: store.name,
    values: store.records.map(({ value }) => {
      const { bytes, ...rest } = value as { bytes?: ArrayBuffer }
      return bytes === undefined ? rest : { ...rest, bytes: [...new Uint8Array(bytes)] }
    }),
  }))
  await page.evaluate(
    async ({ dump, name }) => {
      const request = indexedDB.open(name, 1)
      request.onupgradeneeded = () => {
        for (const { name: store, values } of dump) {
          const into = request.result.createObjectStore(store, { keyPath: 'id' })
          for (const value of values) {
            const { bytes } = value as { bytes?: number[] }
            into.add(bytes ? { ...value, bytes: Uint8Array.from(bytes).buffer } : value)
          }
        }
      }
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
      request.result.close()
    },
    { dump: plain, name },
  )
}
