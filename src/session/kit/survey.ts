import { effect, type ReadonlySignal, signal } from '@preact/signals'
import { locusView } from '../../estimate/locus-view.ts'
import { predictingReading } from '../../estimate/predicted-uncertainty.ts'
import type { LocusView, ReferenceUse, TemperatureEstimate } from '../../estimate/types.ts'
import { inSlices } from '../in-slices.ts'
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

export interface HeatSurvey {
  /** By all others of its camera. */
  readonly use: ReferenceUse
  readonly old: boolean
}

export interface Survey {
  /** By the key of the camera state; grows as the work goes on. */
  readonly states: ReadonlySignal<ReadonlyMap<string, StateSurvey>>
  /** What there is to say about a known heat, by its id. */
  readonly heats: ReadonlySignal<ReadonlyMap<string, HeatSurvey>>
  dispose(): void
}

/** Surveys every camera of the kit, one after the other, so that the screen stays responsive. */
export function createSurvey(kit: KitModel, now: () => Date): Survey {
  const states = signal<ReadonlyMap<string, StateSurvey>>(new Map())
  const heats = signal<ReadonlyMap<string, HeatSurvey>>(new Map())
  let work = new AbortController()
  const survey = async (all: readonly CameraState[], stopped: AbortSignal) => {
    for (const state of all) {
      const found = await inSlices(surveyOf(state, now().toISOString()), stopped)
      if (!found) return
      states.value = new Map([...states.peek(), [state.key, found]])
      heats.value = new Map([...heats.peek(), ...heatSurveys(found.reading)])
    }
  }
  const stop = effect(() => {
    const cameras = camerasOf(kit.heats.value, [])
    work.abort()
    work = new AbortController()
    states.value = new Map()
    heats.value = new Map()
    void survey(
      cameras.flatMap((camera) => camera.states),
      work.signal,
    )
  })
  return {
    states,
    heats,
    dispose() {
      work.abort()
      stop()
    },
  }
}

function heatSurveys(reading: TemperatureEstimate | null): [string, HeatSurvey][] {
  const old = new Set(
    reading?.findings.flatMap((found) =>
      found.code === 'reference old' ? [found.referenceId] : [],
    ),
  )
  return (reading?.referencesUsed ?? []).map((use) => [use.id, { use, old: old.has(use.id) }])
}

function* surveyOf({ heats }: CameraState, takenAt: string): Generator<void, StateSurvey> {
  // The page is drawn first.
  yield
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
    reading: yield* predictingReading(like, SHOWN_AT_K, temperatureK),
    view: used.length > 0 ? locusView(like) : null,
  }
}
