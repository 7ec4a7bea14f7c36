import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { newUuid } from '../../log/schema/uuid.ts'
import { LADDER_RUNGS_K } from '../../physics/lamp-ladder.ts'
import type { LampTargetId } from '../../physics/lamp-targets.ts'
import { type LampRefusal, type LampTemperature, lampTemperature } from '../../physics/lamps.ts'
import {
  FIRST_FORM,
  formOfLamp,
  type LampForm,
  lampInputOf,
  type MissingLampEntry,
  meterReadingsOf,
  NOTHING_TYPED,
} from './lamp-form.ts'
import type { StoredLamp } from './stored-items.ts'
import type { LampSubject } from './subject.ts'

/** The rungs of a ladder and which of them are kept. */
export interface Ladder {
  readonly rung: number
  readonly kept: readonly number[]
}

export type LampOutcome =
  | LampTemperature
  | LampRefusal
  | { readonly missing: readonly MissingLampEntry[] }

export interface LampModel {
  /** Of the lamp in the kit, or of the one that is not there yet. */
  readonly lampId: string
  readonly inKit: Signal<boolean>
  readonly form: Signal<LampForm>
  readonly target: Signal<LampTargetId>
  /** Null: one setting only. */
  readonly ladder: Signal<Ladder | null>
  readonly outcome: ReadonlySignal<LampOutcome>
  change(part: Partial<LampForm>): void
  /** The lamp as it burns now, to be photographed; null without a temperature. */
  subject(): LampSubject | null
  /** A photo of this setting was kept: the meters are cleared, the next rung is up. */
  settingStored(): void
}

export function createLampModel(kept: StoredLamp | null): LampModel {
  const form = signal(kept ? formOfLamp(kept.item.name, kept.lamp) : FIRST_FORM)
  const target = signal<LampTargetId>('frosted-bulb')
  const ladder = signal<Ladder | null>(null)
  const inKit = signal(kept !== null)
  const lampId = kept?.item.id ?? newUuid()
  const outcome = computed<LampOutcome>(() => {
    const input = lampInputOf(form.value)
    return 'missing' in input ? input : lampTemperature(input)
  })
  return {
    lampId,
    inKit,
    form,
    target,
    ladder,
    outcome,
    change(part) {
      form.value = { ...form.peek(), ...part }
    },
    subject() {
      const found = outcome.peek()
      if ('missing' in found || !found.ok) return null
      const now = form.peek()
      const { coldOhms: _, ...readings } = meterReadingsOf(now)
      return {
        kind: 'lamp',
        lampId,
        colourTemperatureK: found.colourTemperatureK,
        standardUncertaintyK: found.standardUncertaintyK,
        target: target.peek(),
        origin: {
          kind: 'lamp',
          lampName: now.name.trim() || 'Lamp',
          target: target.peek(),
          method: now.method,
          lamp: now.lamp,
          readings,
          trueTemperatureK: found.trueTemperatureK,
        },
      }
    },
    settingStored() {
      const now = form.peek()
      form.value = { ...now, typed: { ...NOTHING_TYPED, coldOhms: now.typed.coldOhms } }
      const steps = ladder.peek()
      if (!steps) return
      const all = [...new Set([...steps.kept, steps.rung])]
      const next = LADDER_RUNGS_K.findIndex((_, i) => i > steps.rung && !all.includes(i))
      ladder.value = { kept: all, rung: next === -1 ? steps.rung : next }
    },
  }
}
