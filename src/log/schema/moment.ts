import type { Moment } from './fields.ts'

/**
 * A moment as the wall clock of a zone shows it: ISO 8601 with the zone's offset at that time.
 *
 * @param zone IANA name ('Europe/Vienna'); an unknown one is taken as UTC.
 * @example momentOf(new Date(0), 'UTC') // { iso: '1970-01-01T00:00:00.000+00:00', zone: 'UTC' }
 */
export function momentOf(date: Date, zone: string): Moment {
  const minutes = offsetMinutes(date, zone)
  const local = new Date(date.getTime() + minutes * 60_000).toISOString().slice(0, -1)
  const pad = (n: number) => String(n).padStart(2, '0')
  const size = Math.abs(minutes)
  const offset = `${minutes < 0 ? '-' : '+'}${pad(Math.floor(size / 60))}:${pad(size % 60)}`
  return { iso: local + offset, zone }
}

/** Milliseconds since 1970 of a moment; for sorting. */
export function msOf(moment: Moment): number {
  return Date.parse(moment.iso)
}

/** The zone's name as this device knows it. */
export function deviceZone(): string {
  return Intl.DateTimeFormat().resolvedOptions().timeZone
}

function offsetMinutes(date: Date, zone: string): number {
  try {
    const parts = new Intl.DateTimeFormat('en-US', {
      timeZone: zone,
      timeZoneName: 'longOffset',
    }).formatToParts(date)
    const name = parts.find((part) => part.type === 'timeZoneName')?.value ?? ''
    const found = /^GMT([+-])(\d\d):(\d\d)/.exec(name)
    if (found === null) return 0
    const minutes = Number(found[2]) * 60 + Number(found[3])
    return found[1] === '-' ? -minutes : minutes
  } catch {
    return 0
  }
}
