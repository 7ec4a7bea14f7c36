import type { ReadonlySignal, Signal } from '@preact/signals'
import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { MadeMap } from '../../sources/map/map-operations.ts'
import type { DraftPhoto } from '../draft.ts'
import type { KitModel } from '../kit/kit-model.ts'
import type { CurveStanding } from './curve-standing.ts'
import type { Choices } from './glow-input.ts'
import type { GreyModel } from './grey-model.ts'
import type { PhotoSlot } from './photo-slot.ts'
import type { RawPairModel } from './raw-pair-model.ts'
import type { StoredForPhoto } from './stored-for-photo.ts'
import type { StrayModel } from './stray-model.ts'
import type { SweepModel } from './sweep-model.ts'

/** A map, or one that is being made. */
export interface MapOfReading {
  /** The estimate that it is of. */
  readonly estimate: GlowEstimate
  /** Null where too little could be read. */
  readonly made: Promise<MadeMap | null>
}

export interface ReadingModel extends GreyModel {
  readonly glow: PhotoSlot
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** The photo can no longer be measured. */
  readonly failed: ReadonlySignal<boolean>
  /** The figure is still that of the former tone curve. */
  readonly outdated: ReadonlySignal<boolean>
  /** The exposure sweep that the glow's photo belongs to. */
  readonly sweep: ReadonlySignal<SweepModel | null>
  /** The raw picture of the same shot. */
  readonly pair: ReadonlySignal<RawPairModel | null>
  /** What the kit's tone curves say to this photo; {@link useStoredCurve}: whether one is used. */
  readonly standing: ReadonlySignal<CurveStanding | null>
  readonly useStoredCurve: Signal<boolean>
  /** The tone curve by which the figure's light is counted; null: the nominal one. */
  readonly curve: ReadonlySignal<ToneCurve | null>
  readonly stray: StrayModel
  /** The map that was looked at last; saved with the reading if it is of this very one. */
  readonly map: Signal<MapOfReading | null>
  readonly simulatedTruthK: ReadonlySignal<number | null>
  readonly choices: Signal<Choices>
  /** The piece that is read, by its name. */
  readonly object: Signal<string>
  /** Make and model, or the name that the person gave; empty where nobody has said it. */
  readonly device: ReadonlySignal<string>
  /** What the kit holds for this photo; applied once, when the photo is opened. */
  readonly stored: ReadonlySignal<StoredForPhoto | null>
  /** For files that do not name their camera. */
  nameCamera(name: string): void
  readonly input: ReadonlySignal<GlowInput | null>
  readonly estimate: ReadonlySignal<GlowEstimate | null>
  /** Hottest and coolest part of the glow, K. */
  readonly extremesK: ReadonlySignal<{ readonly hottest: number; readonly coolest: number } | null>
  open(blob: Blob, name: string, simulatedTruthK?: number): Promise<void>
  /** The files that are open; of a photo the first. */
  openFiles(): readonly File[]
  /** @param notes what was said of it, where it was put away and comes back */
  openSweep(files: readonly File[], notes?: unknown): Promise<void>
  /** More photos of the scene that is open: together they are a sweep. */
  addPhotos(files: readonly File[]): Promise<void>
  /** A photo, and the raw picture of the same shot, which gives its tone curve. */
  openPair(photo: File, raw: File): Promise<void>
  /** Puts the photo away; choices stay. Resolves when no draft of it is left. */
  clear(): Promise<void>
  /** Takes up work that a reload interrupted. */
  resume(photo: DraftPhoto, notes: unknown): Promise<void>
  dispose(): void
}

/** What a reading asks the kit for. */
export type KitOfReading = Pick<
  KitModel,
  'references' | 'curves' | 'earlierCurves' | 'cameras' | 'greys' | 'heats' | 'state'
>
