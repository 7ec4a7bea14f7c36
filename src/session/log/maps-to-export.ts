import type { FilesOfReadings, Reading } from '../../log/schema/types.ts'

/** Whether a map was kept with a reading; it is unpacked when it is asked for. */
export const hasMap = ({ details }: Reading): boolean =>
  typeof details === 'object' && details !== null && 'map' in details

/** Kept maps as 16-bit pictures with their scale in the description; a damaged one is left out. */
export const MAPS_TO_EXPORT: FilesOfReadings = {
  has: hasMap,
  async of({ id, details }) {
    const [{ storedMap }, { mapTiff }] = await Promise.all([
      import('./stored-map.ts'),
      import('../map/map-files.ts'),
    ])
    const made = storedMap(details)
    return made ? [{ name: `${id}.tif`, bytes: mapTiff(made.map) }] : []
  },
}
