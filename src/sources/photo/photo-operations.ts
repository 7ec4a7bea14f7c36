import type { CardLightId } from '../../light/card-light.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { GreyMeasurement } from '../../light/grey-reference.ts'
import type { LightImage, Region, StoredImage } from '../../light/image.ts'
import type { HeatCells } from '../../light/map/heat-cells.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { LightMap } from '../../light/raw-pair/light-map.ts'
import type { CellsOf, PhotoInfo, RegionPicture } from './photo.ts'

export interface Opened {
  readonly info: PhotoInfo
  readonly preview: Blob
}

/** What a worker that holds one picture can be asked: name -> [input, output]. */
export type PhotoOperations = {
  open: readonly [Blob, Opened]
  marks: readonly [null, Blob | null]
  measure: readonly [
    { readonly region: Region; readonly curve: ToneCurve | null },
    PhotoMeasurement,
  ]
  cells: readonly [CellsOf, HeatCells]
  measureGrey: readonly [{ readonly region: Region; readonly light: CardLightId }, GreyMeasurement]
  regionPicture: readonly [Region, RegionPicture]
  readStored: readonly [Region, StoredImage]
  readLight: readonly [{ readonly region: Region; readonly curve: ToneCurve | null }, LightImage]
  lightMap: readonly [null, LightMap]
}

/** The worker of ordinary photos can be started before there is one; see warm-up.ts. */
export type PreparedOperations = PhotoOperations & { warmUp: readonly [null, null] }
