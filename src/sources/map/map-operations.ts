import type { Evenness } from '../../estimate/map/evenness.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import type { HeatScale, MapColour } from '../../estimate/map/heat-scale.ts'
import type { MapChangeResult, ReadingChange } from '../../estimate/map/map-change.ts'
import type { GlowInput, TemperatureEstimate } from '../../estimate/types.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import type { HeatCells } from '../../light/map/heat-cells.ts'

/** What a map rests on. */
export interface MapOf {
  readonly cells: HeatCells
  readonly input: GlowInput
  readonly estimate: TemperatureEstimate
  readonly curve: ToneCurve | null
  /** Where the reading was taken. */
  readonly region: Region
}

export interface MadeMap {
  readonly map: HeatMap
  readonly evenness: Evenness
}

/** Two maps of one view, and how their readings differ. */
export interface ChangeOf {
  readonly earlier: HeatMap
  readonly later: HeatMap
  readonly readings: ReadingChange
}

/** What the scale of a live picture rests on: see heatScale. */
export interface ScaleOf {
  readonly input: GlowInput
  readonly estimate: TemperatureEstimate
  readonly at: MapColour
  readonly ratios: readonly number[]
  readonly levels: readonly [number, number]
}

/** What the worker of maps answers; a map is null where too little can be read. */
export type MapOperations = {
  map: readonly [MapOf, MadeMap | null]
  change: readonly [ChangeOf, MapChangeResult]
  scale: readonly [ScaleOf, HeatScale | null]
}
