/** What lies in the kit, as the screens use it. */
import type { InstrumentResponse, WavelengthRange } from '../../estimate/spectrum/types.ts'
import type { GreyBalance, KnownHeatReference } from '../../estimate/types.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Channels } from '../../light/image.ts'
import type { KitItem } from '../../log/schema/types.ts'
import type { CameraData } from './camera-data.ts'
import type { CurveCheck, KnownHeatData, LampData } from './kit-data.ts'

/** What the person has said of one device; what was found with it lies in items of their own. */
export interface StoredCamera {
  readonly item: KitItem
  readonly data: CameraData
}

/** A grey reference of the kit, as the reading uses it. */
export interface StoredGrey {
  readonly id: string
  readonly name: string
  readonly balance: GreyBalance
  readonly channels: Channels
  readonly cameraId: string | null
  /** White-balance state in which it was photographed; null in items of earlier versions. */
  readonly balanceKind: string | null
  /** ISO 8601, when it was photographed. */
  readonly takenAt: string
}

/** A tone curve found by a sweep; it holds for photos with its `curveId`. */
export interface StoredCurve {
  readonly id: string
  readonly name: string
  readonly curveId: string
  readonly curve: ToneCurve
  /** Odds of a curve on each channel, by its sweep; 1 where nothing was stored. */
  readonly channelOdds: number
  /** Camera and lens of the sweep. */
  readonly cameraId: string | null
  /** ISO 8601, when it was found. */
  readonly foundAt: string
  readonly check: CurveCheck | null
}

/** A tone curve of an earlier version, which cannot be used any more. */
export type EarlierCurve = Pick<StoredCurve, 'id' | 'name' | 'curveId'>

/** A known heat of the kit; switched off it is kept but not used. */
export interface StoredHeat {
  readonly item: KitItem
  readonly reference: KnownHeatReference
  readonly off: boolean
  readonly origin: KnownHeatData['origin']
  readonly cameraToXyz: KnownHeatData['cameraToXyz']
}

export interface StoredLamp {
  readonly item: KitItem
  readonly lamp: LampData
}

/** A spectrometer's response, as it was made from a lamp. */
export interface StoredResponse {
  readonly item: KitItem
  readonly response: InstrumentResponse
  /** Set by the person instead of the range found. */
  readonly range: WavelengthRange | null
}

/** An item whose content does not fit; kept as it is, and used for nothing. */
export interface UnreadableItem {
  readonly id: string
  readonly name: string
  /** Path of the first field that is wrong, with what is wrong. */
  readonly where: string
}
