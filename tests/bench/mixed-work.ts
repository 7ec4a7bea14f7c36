import type { Page } from 'playwright-core'
import type { Log } from '../browser/log-page/main.ts'
import { putOldLog } from '../browser/old-log.ts'

declare global {
  var log: Log
}

/** Readings of one import. */
export const IMPORTED = 150

/** What the page has reported as done. */
export interface Told {
  /** Reading ids, each with the last note that was reported saved, or 'removed'. */
  readonly readings: Map<string, string>
  /** Kit ids, each with its last name, or 'removed'. */
  readonly kit: Map<string, string>
  /** Recordings, each with how many readings it was reported to hold. */
  readonly recordings: Map<string, number>
  /** Imports that were merged. */
  readonly imports: Set<string>
  /** The last number of a setting. */
  setting: number
}

interface Teller {
  tell(kind: 'reading' | 'kit' | 'import' | 'setting' | 'recording', id: string, note: string): void
}

/** Writers of all kinds that report each change once it is said to be done; returns at once. */
export async function work(page: Page, told: Told, round: number): Promise<void> {
  await page.exposeFunction('tell', (kind: string, id: string, note: string) => {
    if (kind === 'reading') told.readings.set(id, note)
    if (kind === 'kit') told.kit.set(id, note)
    if (kind === 'import') told.imports.add(id)
    if (kind === 'setting') told.setting = Number(note)
    if (kind === 'recording') told.recordings.set(id, Number(note))
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
      const records = async () => {
        for (;;) {
          const writer = await log.recordings.begin({
            source: 'live',
            simulated: false,
            startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
            cameraId: '',
            methodVersion: '1',
          })
          for (let second = 0; second < 8; second++) {
            const columns = logPage.emptyColumns(10)
            columns.ms.forEach((_, i) => {
              columns.ms[i] = 1000 * second + 100 * i
            })
            await writer.append(columns)
            tell('recording', writer.id, String(10 * (second + 1)))
          }
          await writer.end('by hand')
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
      void records()
    },
    { round, imported: IMPORTED, setting: told.setting, upgrading: round % 5 === 0 },
  )
}
