import { savedAtMs } from '../index/rows.ts'
import { endedAtMs } from '../recordings/ended-at.ts'
import type { Log } from '../schema/types.ts'
import { backupDue, nearlyFull } from './backup.ts'
import type { Context } from './context.ts'
import { BACKUP_KEY, type BackupRecord, NEW_STATE, STATE_KEY, type State } from './state.ts'

type Status = Pick<
  Log,
  'status' | 'requestPersistence' | 'markBackup' | 'backedUp' | 'dismissMissing' | 'lossUnread'
>

/** Zones are in the times; a day is more than clocks differ by. */
const CLOCK_SLACK_MS = 24 * 3600 * 1000

export function statusOf({ db, storage, presence, announcer, now, secondCopy }: Context): Status {
  return {
    async status() {
      const [persisted, estimate, counts] = await Promise.all([
        storage?.persisted().catch(() => null) ?? null,
        storage?.estimate().catch(() => undefined),
        unsaved(),
      ])
      const usageBytes = estimate?.usage ?? null
      const quotaBytes = estimate?.quota ?? null
      const { backup } = counts
      const since = Math.max(counts.oldestMs, backup === undefined ? 0 : Date.parse(backup.at))
      return {
        persisted,
        usageBytes,
        quotaBytes,
        nearlyFull: nearlyFull(usageBytes, quotaBytes),
        lastBackup: backup === undefined ? null : { at: backup.at, readings: backup.readings },
        unsavedElsewhere: counts.count,
        remindBackup: backupDue(counts.count, since, now().getTime()),
        missing: presence.missing(),
        restored: presence.restored(),
        secondCopy: await secondCopy(),
        clockBehind:
          counts.newestMs > now().getTime() + CLOCK_SLACK_MS
            ? new Date(counts.newestMs).toISOString()
            : null,
        stopped: db.stopped(),
      }
    },

    requestPersistence: async () => (await storage?.persist().catch(() => false)) ?? false,

    markBackup: async () => {
      const state = await db.read(['state'], (tx) => tx.objectStore('state').get(STATE_KEY))
      const { change, listed } = (state as State | undefined) ?? NEW_STATE
      return { change, readings: listed, at: now().toISOString() }
    },

    async backedUp({ change, readings, at }) {
      const record: BackupRecord = { at: now().toISOString(), markedAt: at, change, readings }
      await db.write(['state'], (tx) => tx.objectStore('state').put(record, BACKUP_KEY))
      announcer.announce({ kind: 'settings' })
    },

    dismissMissing: () => presence.dismiss(),

    lossUnread() {
      if (presence.missing() !== null) return 'missing'
      return presence.restored() === null ? null : 'restored'
    },
  }

  function unsaved() {
    return db.read(['state', 'readings', 'kit', 'recordings'], async (tx) => {
      const backup = (await tx.objectStore('state').get(BACKUP_KEY)) as BackupRecord | undefined
      const later = IDBKeyRange.lowerBound(backup?.change ?? 0, true)
      const readings = tx.objectStore('readings').index('change')
      const kit = tx.objectStore('kit').index('change')
      const [inReadings, inKit, oldest, last, recordings] = await Promise.all([
        readings.count(later),
        kit.count(later),
        readings.get(later),
        tx.objectStore('readings').openCursor(null, 'prev'),
        tx.objectStore('recordings').getAll(),
      ])
      const markedMs = backup === undefined ? 0 : Date.parse(backup.markedAt ?? backup.at)
      const ends = recordings.map(endedAtMs).filter((ms) => ms > markedMs)
      const oldestMs = oldest === undefined ? Number.NaN : savedAtMs(oldest)
      return {
        backup,
        count: inReadings + inKit + ends.length,
        newestMs: last === null ? Number.NaN : savedAtMs(last.value),
        oldestMs: Math.min(Number.isFinite(oldestMs) ? oldestMs : now().getTime(), ...ends),
      }
    })
  }
}
