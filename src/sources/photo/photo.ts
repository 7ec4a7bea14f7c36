import type { CardLightId } from '../../light/card-light.ts'
import type { CodingSteps } from '../../light/exposure-sweep/frame-levels.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { GlowProposal } from '../../light/find-glow.ts'
import type { GreyMeasurement } from '../../light/grey-reference.ts'
import type { Channels, LightImage, Region, RgbSpace, StoredImage } from '../../light/image.ts'
import type { HeatCells } from '../../light/map/heat-cells.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { LightMap } from '../../light/raw-pair/light-map.ts'
import type { Matrix3, Triple } from '../../numerics/matrix3.ts'
import type { FileKind } from '../files/file-kind.ts'
import type { Subsampling } from '../files/jpeg-header.ts'
import type { PhotoFacts } from '../files/photo-facts.ts'

/** What is worth saying about how the file was read. Codes; the words stand in src/ui/words. */
export type PhotoNote =
  /** The base picture was read, the gain map for high dynamic range left alone. */
  | { readonly code: 'gain map' }
  /** The file's own space is neither sRGB nor Display P3: read as converted to P3. */
  | { readonly code: 'converted space'; readonly profileName: string }
  /** The file's own space is a third one: its codes were read by its profile. */
  | { readonly code: 'own profile'; readonly profileName: string }
  /** This browser cuts wide-gamut photos to sRGB: green and blue of a dull red are lost. */
  | { readonly code: 'wide gamut lost' }
  /** A raw file without colour matrix: read by its own channels. */
  | { readonly code: 'no colour matrix' }
  /** The file has more than 8 bits a channel; 8 were read. */
  | { readonly code: 'eight bits'; readonly bitsPerSample: number }

/** What is known of a photo at once; plain data, crosses from the worker. */
export interface PhotoInfo {
  readonly kind: FileKind
  /** Pixels, upright. */
  readonly width: number
  readonly height: number
  /** Space of the stored codes. */
  readonly space: RgbSpace
  readonly channels: Channels
  /** Camera channels -> XYZ, for raw; null for an ordinary photo. */
  readonly cameraToXyz: Matrix3 | null
  /** Camera channels of a neutral surface as the camera judged the light, for raw; null where not said. */
  readonly asShotNeutral: Triple | null
  readonly facts: PhotoFacts
  readonly subsampling: Subsampling
  readonly chromaSubsampled: boolean
  /** In what steps the file codes its means; null where not known. */
  readonly codingSteps: CodingSteps | null
  readonly notes: readonly PhotoNote[]
  /** Where to read the glow, in pixels of the photo, or why there is no place. */
  readonly glow: GlowProposal
}

/** A small picture of a region, with no metadata but its colour space. */
export interface RegionPicture {
  readonly blob: Blob
  readonly width: number
  readonly height: number
}

/** What the cells of a glow are asked for by. */
export interface CellsOf {
  readonly region: Region
  readonly curve: ToneCurve | null
  /** Light around the glow, linear, as it was measured; null: none is known. */
  readonly background: Triple | null
}

/**
 * An open photo. Its pixels stay in a worker; {@link close} frees them.
 * Regions are in pixels of the upright photo.
 */
export interface Photo extends PhotoInfo {
  /** Object URL of a preview of at most 1280 pixels on the longer side; fills the whole photo. */
  readonly pictureUrl: string
  /** The region of {@link glow}, or null. */
  readonly proposal: Region | null
  /**
   * Object URL of the clipped and floor marks, to be laid over the preview; null where nothing is
   * marked. Every pixel of the photo is looked at, so ask for it after the first measurement; it is
   * made once.
   */
  marks(): Promise<string | null>
  /**
   * Measures the glow in a region. The latest call wins: an earlier one that was not answered yet
   * rejects with an AbortError.
   *
   * @param curve tone curve that a sweep recovered for this camera; raw photos have none
   */
  measure(region: Region, curve?: ToneCurve | null): Promise<PhotoMeasurement>
  /** The glow under a region, cut into cells; the latest call wins likewise. */
  cells(of: CellsOf): Promise<HeatCells>
  /** Measures a grey reference; the latest call wins likewise. */
  measureGrey(region: Region, light: CardLightId): Promise<GreyMeasurement>
  regionPicture(region: Region): Promise<RegionPicture>
  /** Stored codes of a region at full resolution; only for ordinary photos. */
  readStored(region: Region): Promise<StoredImage>
  /** Linear light of a region at full resolution, decoded as {@link measure} does. */
  readLight(region: Region, curve?: ToneCurve | null): Promise<LightImage>
  /** The whole picture made small, for what a raw picture and a photo of one shot say together. */
  lightMap(): Promise<LightMap>
  /** Ends the worker and frees the pixels. Calls that wait reject with an AbortError. */
  close(): void
}

export interface OpenOptions {
  readonly signal?: AbortSignal
  /** Share of the work done, 0..1. */
  readonly onProgress?: (share: number) => void
}
