import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { foreseenReading } from '../../estimate/foreseen-uncertainty.ts'
import { locusView } from '../../estimate/locus-view.ts'
import type { LocusView, ReferenceUse, TemperatureEstimate } from '../../estimate/types.ts'
import { surfaceOf } from '../reading/glow-input.ts'
import { type CameraState, camerasOf } from './cameras.ts'
import { SHOWN_AT_K } from './capture-model.ts'
import type { KitModel } from './kit-model.ts'

/** What the known heats of one camera state make of it. */
export interface StateSurvey {
  /** A reading at {@link SHOWN_AT_K}; null where there is none. */
  readonly reading: TemperatureEstimate | null
  /** Null where every known heat is switched off. */
  readonly view: LocusView | null
}

export interface Survey {
  /** By the key of the camera state; grows as the work goes on. */
  readonly states: ReadonlySignal<ReadonlyMap<string, StateSurvey>>
  /** What all others of its camera say about a known heat, by its id. */
  readonly uses: ReadonlySignal<ReadonlyMap<string, ReferenceUse>>
  dispose(): void
}

/** Surveys every camera of the kit, one after the other, so that the screen stays alive. */
export function createSurvey(kit: KitModel, now: () => Date): Survey {
  const states = signal<ReadonlyMap<string, StateSurvey>>(new Map())
  const uses = signal<ReadonlyMap<string, ReferenceUse>>(new Map())
  let timer: ReturnType<typeof setTimeout> | undefined
  const stop = effect(() => {
    const waiting = camerasOf(kit.heats.value, []).flatMap((camera) => camera.states)
    clearTimeout(timer)
    states.value = new Map()
    uses.value = new Map()
    const next = () => {
      const state = waiting.shift()
      if (!state) return
      const found = surveyOf(state, now().toISOString())
      states.value = new Map([...states.peek(), [state.key, found]])
      const more = found.reading?.referencesUsed ?? []
      uses.value = new Map([...uses.peek(), ...more.map((use) => [use.id, use] as const)])
      timer = setTimeout(next, 0)
    }
    timer = setTimeout(next, 0)
  })
  return {
    states,
    uses,
    dispose() {
      clearTimeout(timer)
      stop()
    },
  }
}

function surveyOf({ heats }: CameraState, takenAt: string): StateSurvey {
  const used = heats.filter(({ off }) => !off)
  const newest = used[0] ?? heats[0]
  if (!newest) return { reading: null, view: null }
  const { reference, cameraToXyz, origin } = newest
  const { temperatureK, ...photo } = reference
  const like = {
    ...photo,
    cameraToXyz,
    // A lamp's own surface is no surface of work.
    surface: origin?.kind === 'lamp' ? surfaceOf('steel-oxidised') : reference.surface,
    takenAt,
    references: used.map((heat) => heat.reference),
  }
  return {
    reading: foreseenReading(like, SHOWN_AT_K, temperatureK),
    view: used.length > 0 ? locusView(like) : null,
  }
}
