import { batch, computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { SpectrumInput } from '../../estimate/spectrum/temperature.ts'
import {
  type Instrument,
  type Recording,
  USUAL_INSTRUMENT,
  type WavelengthRange,
} from '../../estimate/spectrum/types.ts'
import { lightQuantity } from '../../light/spectrum-import/quantity.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { MEASURED_WINDOW } from '../../physics/windows.ts'
import { practiceSpectra } from '../../sources/practice/practice-spectra.ts'
import { openSpectrumBench, type SpectrumBench } from '../../sources/spectrum/spectrum-client.ts'
import { type Draft, spectrumDraft } from '../draft.ts'
import type { StoredResponse } from '../kit/stored-items.ts'
import { createImportedFiles } from './imported-files.ts'
import { keepWork } from './keep-work.ts'
import { createLampChoice } from './lamp-choice.ts'
import type { Measured, SpectrumModel } from './model-types.ts'
import type { Roles, Step } from './pick-roles.ts'
import { createReferencesInUse } from './references-in-use.ts'
import { spectrumInput } from './spectrum-input.ts'
import { createWindowChoice } from './window-choice.ts'

const FIRST_RATIO: readonly [number, number] = [550, 650]

/**
 * @param kept responses of the kit
 * @param bench what reads and fits
 * @param draft where work survives a reload
 */
export function createSpectrumModel(
  kept: ReadonlySignal<readonly StoredResponse[]>,
  bench: SpectrumBench = openSpectrumBench(),
  draft: Draft = spectrumDraft,
): SpectrumModel {
  const step = signal<Step>('instrument')
  const imported = createImportedFiles(bench)
  const instrument = signal<Instrument>(USUAL_INSTRUMENT)
  const references = createReferencesInUse(kept, imported)
  const { storedResponse, made, further, moreResponses, inUse, others } = references
  const range = signal<WavelengthRange | null>(null)
  const responseName = signal('')
  const settings = signal('')
  const materialId = signal('')
  const statedGlow = signal(false)
  const ratioNm = signal<readonly [number, number]>(FIRST_RATIO)
  const measured = signal<Measured | null>(null)
  const failure = signal<string | null>(null)
  const object = signal('')
  const remarks = signal('')

  // Each spectrum a signal of its own: another imported file is no new recording.
  const recordingOf = (light: keyof Roles, dark: keyof Roles) => {
    const lightSpectrum = computed(() => imported.spectrumOf(imported.roles.value[light]))
    const darkSpectrum = computed(() => imported.spectrumOf(imported.roles.value[dark]))
    return computed<Recording | null>(() => {
      const spectrum = lightSpectrum.value
      return spectrum && { spectrum, dark: darkSpectrum.value }
    })
  }
  const lampRecording = recordingOf('lamp', 'lampDark')
  const recording = recordingOf('glow', 'glowDark')

  const lamp = createLampChoice(
    computed(() => {
      const name = recording.value?.spectrum.name
      return name ? lightQuantity(name) : null
    }),
  )
  /** What a response is made from: the lamp's recording, or the glow's own where it is calibrated. */
  const source = computed(() =>
    lamp.emitter.value === 'calibration' ? recording.value : lampRecording.value,
  )
  const usedRange = computed<WavelengthRange | null>(() => {
    const response = inUse.value?.response
    if (!response) return null
    const { fromNm, toNm } = range.value ?? response.range
    const grid = response.wavelengthNm
    return { fromNm: Math.max(fromNm, grid[0]!), toNm: Math.min(toNm, grid.at(-1)!) }
  })
  const window = createWindowChoice(imported, usedRange)

  const input = computed<SpectrumInput | null>(() => {
    const glow = recording.value
    const using = inUse.value
    const front = window.outcome.value
    if (!glow || !using || !front.ok) return null
    return spectrumInput({
      recording: glow,
      response: using.response,
      others: others.value,
      materialId: materialId.value,
      window: front.window,
      range: range.value,
      ratioNm: ratioNm.value,
      statedGlow: statedGlow.value,
    })
  })

  /** A later question of the same kind takes the place of an earlier one: that is no failure. */
  const fail = (error: unknown) => {
    if (error instanceof DOMException && error.name === 'AbortError') return
    failure.value = String(error)
  }

  const glowFile = computed(() => imported.fileOf(imported.roles.value.glow))

  const clear = () => {
    void draft.discard()
    imported.clear()
    batch(() => {
      step.value = 'instrument'
      references.clear()
      range.value = null
      statedGlow.value = false
      lamp.emitter.value = 'tungsten'
      // Its table went with the imported files.
      if (window.cover.peek() === MEASURED_WINDOW) window.cover.value = 'none'
      measured.value = null
      failure.value = null
      object.value = ''
      materialId.value = ''
      remarks.value = ''
    })
  }

  const stops: (() => void)[] = [
    effect(() => {
      const light = source.value
      const of = lamp.lamp.value
      if (!light || !of || storedResponse.value !== null) {
        if (storedResponse.value === null) made.value = null
        return
      }
      bench
        .respond({ recording: light, lamp: of, instrument: instrument.value })
        .then((outcome) => {
          if (source.peek() !== light || lamp.lamp.peek() !== of) return
          made.value = { id: newUuid(), recording: light, outcome }
        }, fail)
    }),
    effect(() => {
      const asked = input.value
      if (!asked) {
        measured.value = null
        return
      }
      bench.measure(asked).then((result) => {
        if (input.peek() === asked) measured.value = { input: asked, result }
      }, fail)
    }),
  ]

  const resumed = keepWork(
    draft,
    {
      step,
      imported,
      storedResponse,
      further,
      moreResponses,
      range,
      instrument,
      lamp,
      statedGlow,
      responseName,
      settings,
      materialId,
      window,
      ratioNm,
      object,
      remarks,
    },
    stops,
  ).catch(fail)

  return {
    step,
    imported,
    lamp,
    instrument,
    storedResponse,
    kept,
    made,
    inUse,
    range,
    responseName,
    settings,
    materialId,
    moreResponses,
    further,
    statedGlow,
    window,
    ratioNm,
    recording,
    input,
    measured,
    busy: computed(() => input.value !== null && measured.value?.input !== input.value),
    failure,
    simulated: computed(() => glowFile.value?.simulated != null || inUse.value?.simulated === true),
    truthK: computed(() => glowFile.value?.simulated?.truthK ?? null),
    object,
    remarks,
    resumed,
    useStored(id) {
      batch(() => {
        storedResponse.value = id
        range.value = kept.peek().find(({ item }) => item.id === id)?.range ?? null
      })
    },
    putBeside: references.putBeside,
    takeOut: references.takeOut,
    async practice() {
      const { lamp: ofLamp, glow, truthK } = practiceSpectra()
      clear()
      batch(() => {
        lamp.emitter.value = 'tungsten'
        lamp.take(null)
        materialId.value = 'cavity'
        window.cover.value = 'none'
      })
      await imported.addTexts([
        { ...ofLamp, step: 'instrument', simulated: { truthK: null } },
        { ...glow, step: 'glow', simulated: { truthK } },
      ])
    },
    async takeShared(files) {
      await resumed
      const hasInstrument = storedResponse.peek() !== null || imported.roles.peek().lamp !== null
      step.value = hasInstrument ? 'glow' : 'instrument'
      await imported.addFiles(files, step.peek())
    },
    clear,
    dispose() {
      for (const stop of stops) stop()
      bench.close()
    },
  }
}
