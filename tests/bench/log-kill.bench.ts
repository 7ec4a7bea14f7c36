import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { env } from 'node:process'
import type { Page } from 'playwright-core'
import type { Log } from '../browser/log-page/main.ts'
import { logSite } from '../browser/log-site.ts'
import type { Bench, Figure } from './figure.ts'
import { kill, openBrowser } from './killed-browser.ts'
import { IMPORTED, type Told, work } from './mixed-work.ts'

declare global {
  var log: Log
}

/** Kills of each kind; 25 where the environment does not say. */
const { GLOWBOOK_KILLS = '25' } = env
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
  recordings: 0,
  restored: 0,
  lossTold: 0,
}
type Found = typeof found

/**
 * The browser is killed at a random moment while work of all kinds goes on: readings saved with
 * pictures, edited, deleted and restored, kit, settings, imports, recordings, a log of a former version
 * upgraded.
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
  const told: Told = {
    readings: new Map(),
    kit: new Map(),
    imports: new Set(),
    recordings: new Map(),
    setting: 0,
  }
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
    {
      name: `${what}: recordings with readings reported saved`,
      value: told.recordings.size,
      unit: '',
    },
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
    none('recordings shorter than reported, or gone', sum.recordings),
  ]
}

/** Everything that was reported is there and whole; so is everything else. */
async function check(page: Page, told: Told, sum: Found, round: number): Promise<void> {
  const seen = await page.evaluate(
    async ({ readings, kit, imports, recordings, setting, imported, before }) => {
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
        recordings: 0,
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
      // Listing ends what was cut off.
      result.damaged += (await log.recordings.list()).damaged.length
      for (const [id, count] of recordings) {
        const stored = await log.recordings.get(id).catch(() => undefined)
        if ((stored?.columns.ms.length ?? 0) < count) result.recordings++
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
      recordings: [...told.recordings],
      setting: told.setting,
      imported: IMPORTED,
      before: round > 0 && (round - 1) % 5 === 0 ? `old ${round - 1}` : null,
    },
  )
  for (const name of Object.keys(sum) as (keyof Found)[]) sum[name] += seen[name]
}
