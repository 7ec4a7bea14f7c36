import type { Moment } from './fields.ts'
import { momentOf } from './moment.ts'

/** "2026-03-14T15:09" of a moment, as a field for date and time shows it. */
export const wallClock = ({ iso }: Moment): string => iso.slice(0, 16)

/**
 * The moment at which a zone's clock shows a date and a time. Inverse of {@link wallClock}.
 *
 * @param local "2026-03-14T15:09"; null for anything else
 * @param like the moment that it replaces: its zone counts, or its offset where it names no zone.
 *   In an hour that a change of clocks leaves out, a time one hour off is taken; in one that comes
 *   twice, one of the two.
 */
export function momentFromWallClock(local: string, like: Moment): Moment | null {
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(local)) return null
  const asUtcMs = Date.parse(`${local}:00Z`)
  if (!Number.isFinite(asUtcMs)) return null
  if (like.zone === '') return { iso: `${local}:00.000${offsetText(like.iso)}`, zone: '' }
  let moment = momentOf(new Date(asUtcMs), like.zone)
  // The offset depends on the moment and the moment on the offset: twice settles it.
  for (let turn = 0; turn < 2; turn++) {
    moment = momentOf(new Date(asUtcMs - offsetMs(moment.iso)), like.zone)
  }
  return moment
}

const offsetText = (iso: string): string => /(Z|[+-]\d\d:\d\d)$/.exec(iso)?.[0] ?? 'Z'

function offsetMs(iso: string): number {
  const found = /([+-])(\d\d):(\d\d)$/.exec(iso)
  if (!found) return 0
  const minutes = Number(found[2]) * 60 + Number(found[3])
  return (found[1] === '-' ? -minutes : minutes) * 60_000
}
