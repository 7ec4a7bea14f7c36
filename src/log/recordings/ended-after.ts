import type { RecordingRow } from './recording-rows.ts'
import type { RecordingHead } from './recording-schema.ts'

/**
 * Whether a recording that stands in the list was ended after a time: a live one is first saved when it
 * begins. By itself, because the first visit loads it.
 */
export function endedAfter({ json, running, removedAtMs }: RecordingRow, ms: number): boolean {
  if (running || removedAtMs !== undefined) return false
  try {
    const { savedAt, source, durationSeconds } = JSON.parse(json) as RecordingHead
    return Date.parse(savedAt) + (source === 'live' ? 1000 * durationSeconds : 0) > ms
  } catch {
    // Damaged: no backup can hold it.
    return false
  }
}
