import type { RecordingRow } from './recording-rows.ts'
import type { RecordingHead } from './recording-schema.ts'

/**
 * When a recording that stands in the list was there whole, ms; NaN for others. A live one is first saved
 * when it begins, and a copy of it after its end. By itself, because the first visit loads it.
 */
export function endedAtMs({ json, running, removedAtMs }: RecordingRow): number {
  if (running || removedAtMs !== undefined) return Number.NaN
  try {
    const { savedAt, source, startedAt, durationSeconds } = JSON.parse(json) as RecordingHead
    const endMs = source === 'live' ? Date.parse(startedAt.iso) + 1000 * durationSeconds : 0
    return Math.max(Date.parse(savedAt), endMs)
  } catch {
    // Damaged: no backup can hold it.
    return Number.NaN
  }
}
