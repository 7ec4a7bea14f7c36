const DAY_MS = 24 * 3600 * 1000

/**
 * Is it time to remind of a backup? After 20 changes, or when something has waited for a week.
 *
 * @param waitingSinceMs when the oldest change that no backup holds was made, or the last backup if
 *   that is later
 */
export function backupDue(unsaved: number, waitingSinceMs: number, nowMs: number): boolean {
  return unsaved >= 20 || (unsaved > 0 && nowMs - waitingSinceMs > 7 * DAY_MS)
}

/** Under 50 MB or under a tenth of the browser's share left. */
export function nearlyFull(usageBytes: number | null, quotaBytes: number | null): boolean {
  if (usageBytes === null || quotaBytes === null) return false
  const left = quotaBytes - usageBytes
  return left < 50e6 || left < 0.1 * quotaBytes
}
