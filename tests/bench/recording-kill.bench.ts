import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { env } from 'node:process'
import { logSite } from '../browser/log-site.ts'
import type { Bench } from './figure.ts'
import { kill, openBrowser } from './killed-browser.ts'

/** Kills; half of the main process alone, half of the whole group. */
const { GLOWBOOK_KILLS = '50' } = env

/**
 * The browser is killed at a random moment while a recording runs at ten readings a second. What the
 * recording had come to when it was killed is compared with what lies in the log afterwards.
 */
export const bench: Bench = async ({ short }) => {
  const rounds = short ? 2 : Number(GLOWBOOK_KILLS)
  const profile = await mkdtemp(join(tmpdir(), 'glowbook-kill-'))
  const { url, end } = await logSite()
  const lost: number[] = []
  let [missing, damaged, others] = [0, 0, 0]
  let before = 0
  /** The one that was killed last, and how far it had come, s. */
  let last: { id: string; seconds: number } | null = null
  let what: Parameters<typeof kill>[1] = 'main process'
  try {
    for (let round = 0; round <= rounds; round++) {
      what = round % 2 === 0 ? 'main process' : 'whole process group'
      const { browser, page } = await openBrowser(profile, url)
      const seen = await page.evaluate(async () => {
        const { recordings } = await logPage.openLog()
        const list = await recordings.list()
        let unread = 0
        for (const { id } of list.items)
          await recordings.get(id).catch(() => {
            unread++
          })
        return {
          damaged: list.damaged.length + list.running + unread,
          items: list.items.map(({ id, durationSeconds }) => ({ id, durationSeconds })),
        }
      })
      damaged += seen.damaged
      if (last) {
        const { id, seconds } = last
        const found = seen.items.find((item) => item.id === id)
        if (found) lost.push(Math.max(0, seconds - found.durationSeconds))
        else missing++
        if (seen.items.length !== before + 1) others++
        before = seen.items.length
      }
      if (round === rounds) {
        await browser.close()
        break
      }
      last = null
      await page.exposeFunction('tell', (id: string, seconds: number) => {
        last = { id, seconds }
      })
      await page.evaluate(async () => {
        const { tell } = globalThis as unknown as { tell(id: string, seconds: number): void }
        const log = await logPage.openLog()
        const model = logPage.recordedModel()
        const now = () => new Date()
        const recorder = await logPage.startRecorder({ log, model, rate: 10, now })
        recorder.attach(model)
        recorder.seconds.subscribe((seconds) => tell(recorder.id, seconds))
      })
      await new Promise((resolve) => setTimeout(resolve, 1500 + 4000 * Math.random()))
      kill(profile, what)
      await browser.close().catch(() => {})
    }
  } finally {
    kill(profile, what)
    await end()
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 })
  }
  const none = (name: string, value: number) => ({ name, value, unit: '', target: { atMost: 0 } })
  return [
    { name: 'kills while recording', value: rounds, unit: '' },
    {
      name: 'most that was lost',
      value: Math.max(0, ...lost),
      unit: 's',
      target: { atMost: 2 },
    },
    none('recordings missing', missing),
    none('recordings damaged', damaged),
    none('earlier recordings lost', others),
  ]
}
