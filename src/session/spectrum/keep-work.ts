import { batch, effect, type Signal } from '@preact/signals'
import type { Instrument, WavelengthRange } from '../../estimate/spectrum/types.ts'
import { type Draft, NOTES } from '../draft.ts'
import type { ImportedFiles } from './imported-files.ts'
import type { LampChoice } from './lamp-choice.ts'
import type { FurtherReference } from './model-types.ts'
import type { Step } from './pick-roles.ts'
import { furtherFrom, type SpectrumNotes, spectrumNotesFrom, textsFrom } from './spectrum-notes.ts'
import type { WindowChoice } from './window-choice.ts'

/** Typing is stored after a pause, not letter by letter. */
const KEEP_AFTER_MS = 250

/** Everything that a person has said or opened and not saved. */
export interface SpectrumWork {
  readonly step: Signal<Step>
  readonly imported: ImportedFiles
  readonly storedResponse: Signal<string | null>
  readonly further: Signal<readonly FurtherReference[]>
  readonly moreResponses: Signal<readonly string[]>
  readonly range: Signal<WavelengthRange | null>
  readonly instrument: Signal<Instrument>
  readonly lamp: LampChoice
  readonly statedGlow: Signal<boolean>
  readonly responseName: Signal<string>
  readonly settings: Signal<string>
  readonly materialId: Signal<string>
  readonly window: WindowChoice
  readonly ratioNm: Signal<readonly [number, number]>
  readonly object: Signal<string>
  readonly remarks: Signal<string>
}

/** Takes up the work of before a reload, and from then on stores all of it. */
export async function keepWork(
  draft: Draft,
  work: SpectrumWork,
  stops: (() => void)[],
): Promise<void> {
  const { imported, further } = work
  const found = spectrumNotesFrom(await draft.find(NOTES))
  const texts = textsFrom(await draft.find('texts'))
  const beside = furtherFrom(await draft.find('further'))
  if (found && imported.files.peek().length === 0) {
    batch(() => {
      further.value = beside
      takeUp(work, found)
    })
    await imported.restore(texts, found.roles)
  }
  // Only now: before, it would overwrite what is to be taken up.
  let kept = false
  let timer: ReturnType<typeof setTimeout> | undefined
  stops.push(
    effect(() => {
      const all = imported.files.value.map(({ result: _, ...text }) => text)
      if (all.length > 0) void draft.store('texts', all)
    }),
    effect(() => {
      if (further.value.length > 0 || kept) void draft.store('further', further.value)
      kept = further.value.length > 0
    }),
    effect(() => {
      const now = notesOf(work)
      clearTimeout(timer)
      timer = setTimeout(() => void draft.store(NOTES, now), KEEP_AFTER_MS)
    }),
    () => clearTimeout(timer),
  )
}

const notesOf = (work: SpectrumWork): SpectrumNotes => ({
  step: work.step.value,
  roles: work.imported.roles.value,
  storedResponse: work.storedResponse.value,
  range: work.range.value,
  instrument: work.instrument.value,
  emitter: work.lamp.emitter.value,
  black: work.lamp.black.value,
  surfaceId: work.lamp.surfaceId.value,
  quantity: work.lamp.quantity.value,
  moreResponses: [...work.moreResponses.value],
  statedGlow: work.statedGlow.value,
  lampForm: work.lamp.filament.value.form.value as SpectrumNotes['lampForm'],
  responseName: work.responseName.value,
  settings: work.settings.value,
  materialId: work.materialId.value,
  cover: work.window.cover.value,
  windowUnit: work.window.unit.value,
  windowUncertainty: work.window.uncertainty.value,
  ratioNm: [...work.ratioNm.value],
  object: work.object.value,
  remarks: work.remarks.value,
})

function takeUp(work: SpectrumWork, found: SpectrumNotes): void {
  work.step.value = found.step
  work.storedResponse.value = found.storedResponse
  work.range.value = found.range
  work.instrument.value = found.instrument
  work.lamp.emitter.value = found.emitter
  work.lamp.black.value = found.black
  work.lamp.surfaceId.value = found.surfaceId
  work.lamp.quantity.value = found.quantity
  work.moreResponses.value = found.moreResponses
  work.statedGlow.value = found.statedGlow
  work.lamp.filament.value.form.value = found.lampForm
  work.responseName.value = found.responseName
  work.settings.value = found.settings
  work.materialId.value = found.materialId
  work.window.cover.value = found.cover
  work.window.unit.value = found.windowUnit
  work.window.uncertainty.value = found.windowUncertainty
  work.ratioNm.value = found.ratioNm
  work.object.value = found.object
  work.remarks.value = found.remarks
}
