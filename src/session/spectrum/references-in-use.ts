import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { InstrumentResponse } from '../../estimate/spectrum/types.ts'
import type { StoredResponse } from '../kit/stored-items.ts'
import type { ImportedFiles } from './imported-files.ts'
import type { FurtherReference, Made, ResponseInUse } from './model-types.ts'

/** The response that counts first, and those that are used beside it. */
export interface ReferencesInUse {
  /** Id of a response of the kit; null: one is made here. */
  readonly storedResponse: Signal<string | null>
  readonly made: Signal<Made | null>
  /** Made here before, and put beside. */
  readonly further: Signal<readonly FurtherReference[]>
  /** Ids of further responses of the kit. */
  readonly moreResponses: Signal<readonly string[]>
  readonly inUse: ReadonlySignal<ResponseInUse | null>
  /** Used beside {@link inUse}. */
  readonly others: ReadonlySignal<readonly InstrumentResponse[]>
  /** Puts the one that was made here beside, so that another can be made. */
  putBeside(): void
  takeOut(id: string): void
  clear(): void
}

export function createReferencesInUse(
  kept: ReadonlySignal<readonly StoredResponse[]>,
  imported: ImportedFiles,
): ReferencesInUse {
  const storedResponse = signal<string | null>(null)
  const made = signal<Made | null>(null)
  const further = signal<readonly FurtherReference[]>([])
  const moreResponses = signal<readonly string[]>([])
  const lampSimulated = computed(
    () => imported.fileOf(imported.roles.value.lamp)?.simulated != null,
  )
  const inUse = computed<ResponseInUse | null>(() => {
    const id = storedResponse.value
    const found = kept.value.find(({ item }) => item.id === id)
    if (found) {
      const { item, response } = found
      return { id: item.id, kept: item, response, simulated: item.simulated }
    }
    const own = made.value
    // One that was kept a moment ago is in the kit before the kit says so.
    if (own?.outcome.ok && (id === null || id === own.id)) {
      const { response } = own.outcome
      return { id: own.id, kept: null, response, simulated: lampSimulated.value }
    }
    const [first] = further.value
    return id === null && first ? { ...first, kept: null } : null
  })
  const others = computed(() => {
    const first = inUse.value?.id
    return [
      ...further.value.filter(({ id }) => id !== first),
      ...kept.value
        .filter(({ item: { id } }) => id !== first && moreResponses.value.includes(id))
        .map(({ response }) => ({ response })),
    ].map(({ response }) => response)
  })
  return {
    storedResponse,
    made,
    further,
    moreResponses,
    inUse,
    others,
    putBeside() {
      const own = made.peek()
      if (!own?.outcome.ok) return
      const { response } = own.outcome
      const { glow, glowDark } = imported.roles.peek()
      const playing = [glow, glowDark].map((key) => imported.fileOf(key)?.id)
      batch(() => {
        further.value = [
          ...further.peek(),
          { id: own.id, response, simulated: lampSimulated.peek() },
        ]
        made.value = null
        imported.roles.value = { ...imported.roles.peek(), lamp: null, lampDark: null }
        for (const { id, step } of imported.files.peek()) {
          if (step === 'instrument' && !playing.includes(id)) imported.remove(id)
        }
      })
    },
    takeOut(id) {
      further.value = further.peek().filter((one) => one.id !== id)
    },
    clear() {
      storedResponse.value = null
      made.value = null
      further.value = []
      moreResponses.value = []
    },
  }
}
