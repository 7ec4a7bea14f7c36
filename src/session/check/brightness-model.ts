import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { compareLevels, type LevelComparison } from '../../estimate/level-comparison.ts'
import type { Log } from '../../log/schema/types.ts'
import { askedReading } from './asked-reading.ts'
import { type LevelReading, levelReading } from './level-reading.ts'

export interface BrightnessModel {
  readonly readings: ReadonlySignal<readonly LevelReading[] | null>
  readonly referenceId: Signal<string>
  readonly glowId: Signal<string>
  readonly answer: ReadonlySignal<LevelComparison | null>
  readonly failure: ReadonlySignal<unknown>
  dispose(): void
}

const MOST = 60

/** @param readingId a reading of the log, or the open one, to start with */
export function createBrightnessModel(log: Promise<Log>, readingId = ''): BrightnessModel {
  const readings = signal<readonly LevelReading[] | null>(null)
  const referenceId = signal('')
  const glowId = signal('')
  const failure = signal<unknown>(null)
  let disposed = false
  log
    .then(async (opened) => {
      const view = await opened.find({ methods: ['photo', 'raw', 'sweep', 'live', 'practice'] })
      const stored = await Promise.all(view.ids(0, MOST).map((id) => opened.get(id)))
      const about = await askedReading(opened, readingId)
      if (disposed) return
      const all = stored.flatMap((found) => (found?.state === 'sound' ? [found.reading] : []))
      if (about && !all.some(({ id }) => id === about.id)) all.unshift(about)
      const found = all.flatMap((reading) => levelReading(reading) ?? [])
      if (found.some(({ reading }) => reading.id === about?.id)) glowId.value = about?.id ?? ''
      readings.value = found
    })
    .catch((error: unknown) => {
      if (!disposed) failure.value = error
    })
  const stop = effect(() => {
    const all = readings.value ?? []
    if (!glowId.value && all[0]) glowId.value = all[0].reading.id
    const glow = all.find(({ reading }) => reading.id === glowId.value)
    const others = all.filter((one) => one !== glow)
    const like = others.find(({ capture }) => capture === glow?.capture) ?? others[0]
    if (!referenceId.value && like) referenceId.value = like.reading.id
  })

  const answer = computed<LevelComparison | null>(() => {
    const of = (id: string) => readings.value?.find(({ reading }) => reading.id === id)
    const glow = of(glowId.value)
    const reference = of(referenceId.value)
    if (!glow || !reference || glow === reference) return null
    if (glow.capture !== reference.capture) return null
    const withMaterial = <T extends LevelReading>(of: T) => ({
      ...of,
      materialId: of.reading.material,
    })
    return compareLevels(withMaterial(glow), withMaterial(reference))
  })

  return {
    readings,
    referenceId,
    glowId,
    answer,
    failure,
    dispose() {
      disposed = true
      stop()
    },
  }
}
