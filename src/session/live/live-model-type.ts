import type { ReadonlySignal, Signal } from '@preact/signals'
import type { TemperatureDifference } from '../../estimate/difference.ts'
import type { LiveFigure, LiveLine } from '../../estimate/live/live-line.ts'
import type { BalanceState, GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { GreyMeasurement } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import type { RollingValue } from '../../light/live/rolling.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Size } from '../../light/region-geometry.ts'
import type { LiveCamera } from '../../sources/live/live-camera.ts'
import type { LiveBench } from '../../sources/live/live-client.ts'
import type { Locks } from '../../sources/live/lock.ts'
import type { LiveCurve } from './live-curve.ts'
import type { LiveDesk } from './live-desk.ts'
import type { LiveTrouble } from './live-judgement.ts'

/** What a frame gave, as recordings take it. */
export type LiveFrameReading =
  | {
      /**
       * ln(G/R) of the frame's mean without the surroundings, a known tone curve undone, less the grey
       * card's where one counts; ln of the linear red.
       */
      readonly plain: number
      readonly lnRed: number
      /** The latest whole estimate, and the plain value at which it was made. */
      readonly line: LiveLine
      readonly anchor: number
    }
  | { readonly trouble: LiveTrouble }

export interface LiveModel {
  readonly camera: LiveCamera
  readonly desk: LiveDesk
  /** Size of the frames: turns with the phone. */
  readonly size: ReadonlySignal<Size>
  readonly locks: ReadonlySignal<Locks | null>
  readonly region: ReadonlySignal<Region | null>
  /** Follows the glow by itself; else the sight stays where it is. */
  readonly follow: Signal<boolean>
  /** Where a grey card lies in the picture; null without one. */
  readonly cardRegion: ReadonlySignal<Region | null>
  /** What came of the card in the latest look. */
  readonly card: ReadonlySignal<GreyMeasurement | null>
  /** Whether the figure rests on the card. */
  readonly byCard: ReadonlySignal<boolean>
  readonly figure: ReadonlySignal<LiveFigure | null>
  readonly rolling: ReadonlySignal<RollingValue | null>
  readonly trouble: ReadonlySignal<LiveTrouble | null>
  readonly measurement: ReadonlySignal<PhotoMeasurement | null>
  /** Frames and canvas differ on this device: pixels are read by the canvas. */
  readonly canvasOnly: ReadonlySignal<boolean>
  readonly held: Signal<boolean>
  /** How much hotter than at the latest hold; null before one. */
  readonly sinceHold: ReadonlySignal<TemperatureDifference | null>
  readonly curve: LiveCurve
  readonly balanceState: ReadonlySignal<BalanceState>
  /** The sweep wants the camera for itself. */
  readonly pause: Signal<boolean>
  readonly bench: LiveBench
  /** Calls back for each frame that was read, or was not; returns the way to stop. */
  onReading(listener: (frame: LiveFrameReading) => void): () => void
  /** The whole estimate of the rolling value, for the log; null without a figure. */
  wholeEstimate(): Promise<{ estimate: GlowEstimate; input: GlowInput } | null>
  setSight(region: Region): void
  setCard(region: Region | null): void
  lock(): Promise<void>
  dispose(): void
}

/** What lies outside the model; replaced in tests. */
export interface LiveSurroundings {
  readonly bench: LiveBench
  readonly nowMs: () => number
}
