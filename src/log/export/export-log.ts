import type { Taking } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import { csvChunks } from './csv.ts'
import { jsonChunks } from './json.ts'
import { kitToTake, readingsToTake } from './source.ts'
import { zipChunks } from './zip.ts'

/** See Log.take. */
export async function* take(
  context: Context,
  format: 'csv' | 'json' | 'zip' | 'kit',
  taking: Taking = {},
): AsyncGenerator<Uint8Array> {
  const at = context.now()
  if (format === 'csv') {
    yield* csvChunks(readingsToTake(context, taking, false))
    return
  }
  const kit = taking.ids === undefined ? await kitToTake(context, taking) : []
  if (format === 'zip') {
    yield* zipChunks(context, taking, kit, at)
    return
  }
  const readings = readingsToTake(context, format === 'kit' ? { ...taking, ids: [] } : taking, true)
  yield* jsonChunks(readings, kit, at.toISOString())
}
