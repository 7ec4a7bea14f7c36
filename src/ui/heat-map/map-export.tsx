import type { HeatMap } from '../../estimate/map/heat-map.ts'
import { mapCsv, mapTiff } from '../../session/map/map-files.ts'
import { saveFile } from '../save-file.ts'
import { say } from '../spoken.tsx'

/** A map as files: a picture to show, a table, a 16-bit picture to measure in. */
export function MapExport({
  map,
  note,
  poster,
}: {
  map: HeatMap
  note: string
  poster: () => Promise<Blob>
}) {
  const name = `heat-map ${note}`
    .trim()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 60)
  const save = (blob: Blob, ending: string) => saveFile(blob, `${name}.${ending}`)
  return (
    <div class="row tight">
      <button
        type="button"
        class="grow"
        onClick={() =>
          void poster().then(
            (blob) => save(blob, 'png'),
            () => say('The picture could not be made. Try again.'),
          )
        }
      >
        PNG
      </button>
      <button
        type="button"
        class="grow"
        onClick={() => save(new Blob([mapCsv(map)], { type: 'text/csv' }), 'csv')}
      >
        CSV
      </button>
      <button
        type="button"
        class="grow"
        onClick={() => save(new Blob([mapTiff(map)], { type: 'image/tiff' }), 'tif')}
      >
        TIFF, 16 bit
      </button>
    </div>
  )
}
