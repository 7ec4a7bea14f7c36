import type { Log } from '../../log/schema/types.ts'

/** What a piece of this name was read as last: its surface is asked once. */
export async function surfaceOfObject(
  log: Log,
  object: string,
): Promise<{ readonly materialId: string; readonly cover: string } | null> {
  const view = await log.find({ object })
  for (const id of view.ids(0, 5)) {
    const stored = await log.get(id)
    if (stored?.state === 'sound' && stored.reading.material !== '') {
      return { materialId: stored.reading.material, cover: stored.reading.cover || 'none' }
    }
  }
  return null
}
