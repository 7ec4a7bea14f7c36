import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { compareLevels, type LevelComparison } from '../../estimate/level-comparison.ts'
import type { Log } from '../../log/schema/types.ts'
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

export function createBrightnessModel(log: Promise<Log>): BrightnessModel {
  const readings = signal<readonly LevelReading[] | null>(null)
  const referenceId = signal('')
  const glowId = signal('')
  const failure = signal<unknown>(null)
  let disposed = false
  log
    .then(async (opened) => {
      const view = await opened.find({ methods: ['photo', 'raw', 'sweep', 'live', 'practice'] })
      const stored = await Promise.all(view.ids(0, MOST).map((id) => opened.get(id)))
      if (disposed) return
      readings.value = stored.flatMap((found) =>
        found?.state === 'sound' ? (levelReading(found.reading) ?? []) : [],
      )
    })
    .catch((error: unknown) => {
      if (!disposed) failure.value = error
    })
  const stop = effect(() => {
    const [newest, older] = readings.value ?? []
    if (!glowId.value && newest) glowId.value = newest.reading.id
    if (!referenceId.value && older) referenceId.value = older.reading.id
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
