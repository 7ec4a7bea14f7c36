import type { ExportOptions } from '../schema/types.ts'
import type { Context } from '../store/context.ts'
import { csvChunks } from './csv.ts'
import { jsonChunks } from './json.ts'
import { kitToExport, readingsToExport } from './source.ts'
import { zipChunks } from './zip.ts'

/** See Log.export. */
export async function* exportLog(
  context: Context,
  format: 'csv' | 'json' | 'zip' | 'kit',
  options: ExportOptions = {},
): AsyncGenerator<Uint8Array> {
  const at = context.now()
  if (format === 'csv') {
    yield* csvChunks(readingsToExport(context, options, false))
    return
  }
  const kit = options.ids === undefined ? await kitToExport(context, options) : []
  if (format === 'zip') {
    yield* zipChunks(context, options, kit, at)
    return
  }
  const readings = readingsToExport(
    context,
    format === 'kit' ? { ...options, ids: [] } : options,
    true,
  )
  yield* jsonChunks(readings, kit, at.toISOString())
}
