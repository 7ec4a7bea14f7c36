import * as v from 'valibot'

/** OSHA 29 CFR 1910.252(a)(2)(iii)(B): at least half an hour after the work. */
export const LEAST_MINUTES = 30
/** NFPA 51B, 2019 and later: at least an hour. */
export const USUAL_MINUTES = 60
const MOST_MINUTES = 24 * 60
/** A look round is asked for this often, minutes. */
export const CHECK_IN_MINUTES = 10
const MINUTE_MS = 60_000

const instant = v.pipe(
  v.string(),
  v.maxLength(40),
  v.check((at) => Number.isFinite(Date.parse(at))),
)

/** A fire watch as the device keeps it: the deadline is an instant, so nothing has to keep counting. */
export const fireWatch = v.object({
  startedAt: instant,
  endsAt: instant,
  /** Why it is shorter than {@link LEAST_MINUTES}; empty where it is not. */
  reason: v.pipe(v.string(), v.maxLength(400)),
  /** When somebody looked round. */
  checkIns: v.pipe(v.array(instant), v.maxLength(500)),
})
export type FireWatch = v.InferOutput<typeof fireWatch>

export type FireWatchRefusal = 'no minutes' | 'too long' | 'reason needed'

/**
 * @param minutes from now; below {@link LEAST_MINUTES} only with a reason, at most a day
 */
export function startFireWatch(
  at: Date,
  minutes: number,
  reason = '',
): FireWatch | FireWatchRefusal {
  if (!(minutes > 0)) return 'no minutes'
  if (minutes > MOST_MINUTES) return 'too long'
  if (minutes < LEAST_MINUTES && reason.trim() === '') return 'reason needed'
  return {
    startedAt: at.toISOString(),
    endsAt: new Date(at.getTime() + minutes * MINUTE_MS).toISOString(),
    reason: minutes < LEAST_MINUTES ? reason.trim() : '',
    checkIns: [],
  }
}

/** The whole length, minutes. */
export const lengthMinutes = ({ startedAt, endsAt }: FireWatch): number =>
  (Date.parse(endsAt) - Date.parse(startedAt)) / MINUTE_MS

/** What is left, s; 0 once it is over. */
export const secondsLeft = ({ endsAt }: FireWatch, now: Date): number =>
  Math.max(0, (Date.parse(endsAt) - now.getTime()) / 1000)

/** Minutes are added; taking off goes through {@link shorten}. */
export const lengthen = (watch: FireWatch, minutes: number): FireWatch => {
  const added = Date.parse(watch.endsAt) + Math.max(0, minutes) * MINUTE_MS
  const latest = Date.parse(watch.startedAt) + MOST_MINUTES * MINUTE_MS
  return { ...watch, endsAt: new Date(Math.min(added, latest)).toISOString() }
}

/** Ends it before its time; the reason is kept. @returns null without a reason */
export function shorten(watch: FireWatch, now: Date, reason: string): FireWatch | null {
  if (secondsLeft(watch, now) === 0) return watch
  if (reason.trim() === '') return null
  return { ...watch, endsAt: now.toISOString(), reason: reason.trim() }
}

export const checkIn = (watch: FireWatch, now: Date): FireWatch => ({
  ...watch,
  checkIns: [...watch.checkIns, now.toISOString()],
})

/** Whether a look round is due. */
export function checkInDue({ startedAt, checkIns }: FireWatch, now: Date): boolean {
  const last = Date.parse(checkIns.at(-1) ?? startedAt)
  return now.getTime() - last >= CHECK_IN_MINUTES * MINUTE_MS
}
