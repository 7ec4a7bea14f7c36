import type { ReadonlySignal, Signal } from '@preact/signals'
import type { SpectrumInput, SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type {
  Instrument,
  InstrumentResponse,
  Recording,
  SpectrumRefusal,
  WavelengthRange,
} from '../../estimate/spectrum/types.ts'
import type { KitItem } from '../../log/schema/types.ts'
import type { StoredResponse } from '../kit/stored-items.ts'
import type { ImportedFiles } from './imported-files.ts'
import type { LampChoice } from './lamp-choice.ts'
import type { Step } from './pick-roles.ts'
import type { WindowChoice } from './window-choice.ts'

/** The response that temperatures are taken with, kept in the kit or just made. */
export interface ResponseInUse {
  /** Of the kit item, or the one that it will have. */
  readonly id: string
  readonly kept: KitItem | null
  readonly response: InstrumentResponse
  readonly simulated: boolean
}

/** A response made here and put beside, so that another reference can follow. */
export type FurtherReference = Omit<ResponseInUse, 'kept'>

/** A recording of the lamp, and what came of it. */
export interface Made {
  readonly id: string
  readonly recording: Recording
  readonly outcome: { readonly ok: true; readonly response: InstrumentResponse } | SpectrumRefusal
}

export interface Measured {
  readonly input: SpectrumInput
  readonly result: SpectrumTemperature | SpectrumRefusal
}

export interface SpectrumModel {
  readonly step: Signal<Step>
  readonly imported: ImportedFiles
  readonly lamp: LampChoice
  readonly instrument: Signal<Instrument>
  /** Id of a response of the kit; null: one is made here. */
  readonly storedResponse: ReadonlySignal<string | null>
  readonly kept: ReadonlySignal<readonly StoredResponse[]>
  /** Ids of further responses of the kit, used beside the one in use. */
  readonly moreResponses: Signal<readonly string[]>
  /** Further references that were recorded here. */
  readonly further: ReadonlySignal<readonly FurtherReference[]>
  readonly made: ReadonlySignal<Made | null>
  readonly inUse: ReadonlySignal<ResponseInUse | null>
  /** Set by the person instead of the range found. */
  readonly range: Signal<WavelengthRange | null>
  readonly responseName: Signal<string>
  readonly settings: Signal<string>
  /** Empty while nobody has said it. */
  readonly materialId: Signal<string>
  readonly window: WindowChoice
  readonly ratioNm: Signal<readonly [number, number]>
  /** A person says that it glows, where the range is too short to tell. */
  readonly statedGlow: Signal<boolean>
  readonly recording: ReadonlySignal<Recording | null>
  readonly input: ReadonlySignal<SpectrumInput | null>
  /** Of the latest input that was answered. */
  readonly measured: ReadonlySignal<Measured | null>
  readonly busy: ReadonlySignal<boolean>
  /** The computation broke down: text for details, not for sentences. */
  readonly failure: ReadonlySignal<string | null>
  readonly simulated: ReadonlySignal<boolean>
  readonly truthK: ReadonlySignal<number | null>
  readonly object: Signal<string>
  readonly remarks: Signal<string>
  /** Work of before a reload has been taken up, if there was any. */
  readonly resumed: Promise<void>
  useStored(id: string | null): void
  /** Puts the reference just made beside: another can be recorded. */
  putBeside(): void
  takeOut(id: string): void
  practice(): Promise<void>
  /** Files from the share sheet: beside the unsaved work, for the step that lacks a spectrum. */
  takeShared(files: readonly File[]): Promise<void>
  /** Puts everything away. */
  clear(): void
  dispose(): void
}
