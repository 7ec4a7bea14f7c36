import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Log, Reading } from '../../log/schema/types.ts'
import { carriedReading, OPEN } from '../carried-reading.ts'
import { SAME_HEAT_MS } from './representatives.ts'

/**
 * The reading that a check begins with: one of the log, or the open one, as the log has it once it is
 * saved.
 *
 * @param id {@link OPEN}, or an id of the log
 * @returns null where there is none
 */
export async function askedReading(log: Log, id: string): Promise<Reading | null> {
  if (id === OPEN) {
    const open = carriedReading.peek()?.record?.() ?? null
    return open && ((await savedReading(log, open)) ?? open)
  }
  const found = id === '' ? undefined : await log.get(id)
  return found?.state === 'sound' ? found.reading : null
}

/** Its figure to the last digit, within the hour: no other reading has that. */
async function savedReading(log: Log, open: Reading): Promise<Reading | null> {
  const result = currentResult(open)
  if (result.kind !== 'temperature') return null
  const atMs = Date.parse(open.takenAt.iso)
  const view = await log.find({
    methods: [open.method],
    fromMs: atMs - SAME_HEAT_MS,
    toMs: atMs + SAME_HEAT_MS,
  })
  const summary = view.summaries().find(({ temperatureK }) => temperatureK === result.temperatureK)
  const found = summary && (await log.get(summary.id))
  return found?.state === 'sound' ? found.reading : null
}
