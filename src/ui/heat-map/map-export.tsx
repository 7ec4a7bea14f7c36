import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { MapChange } from '../../estimate/map/map-change.ts'
import { changeCsv, mapCsv, mapTiff } from '../../session/map/map-files.ts'
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
  const files: readonly FileOf[] = [
    ['CSV', 'csv', () => new Blob([mapCsv(map)], { type: 'text/csv' })],
    ['TIFF, 16 bit', 'tif', () => new Blob([mapTiff(map)], { type: 'image/tiff' })],
  ]
  return <Files name={`heat-map ${note}`} poster={poster} files={files} />
}

/** The change between two maps as files. */
export function ChangeExport({
  change,
  note,
  poster,
}: {
  change: MapChange
  note: string
  poster: () => Promise<Blob>
}) {
  const files: readonly FileOf[] = [
    ['CSV', 'csv', () => new Blob([changeCsv(change)], { type: 'text/csv' })],
  ]
  return <Files name={`heat-change ${note}`} poster={poster} files={files} />
}

type FileOf = readonly [word: string, ending: string, make: () => Blob]

function Files({
  name,
  poster,
  files,
}: {
  name: string
  poster: () => Promise<Blob>
  files: readonly FileOf[]
}) {
  const stem = name
    .trim()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .slice(0, 60)
  const savePoster = () =>
    poster().then(
      (blob) => saveFile(blob, `${stem}.png`),
      () => say('The picture could not be made. Try again.'),
    )
  return (
    <div class="row tight">
      <button type="button" class="grow" onClick={() => void savePoster()}>
        PNG
      </button>
      {files.map(([word, ending, make]) => (
        <button
          key={ending}
          type="button"
          class="grow"
          onClick={() => saveFile(make(), `${stem}.${ending}`)}
        >
          {word}
        </button>
      ))}
    </div>
  )
}
