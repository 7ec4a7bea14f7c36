import { effect } from '@preact/signals'
import * as v from 'valibot'
import { storeTyped, typedBefore } from '../stored-text.ts'
import { lampData } from './kit-data.ts'
import { formOfLamp, lampToKeep } from './lamp-form.ts'
import type { LampModel } from './lamp-model.ts'

export const lampDraft = v.object({ name: v.string(), lamp: lampData })

const nameOf = ({ inKit, lampId }: LampModel) => `lamp ${inKit.peek() ? lampId : 'new'}`

const described = (model: LampModel) => {
  const form = model.form.value
  return JSON.stringify({ name: form.name, lamp: lampToKeep(form) })
}

/**
 * Keeps a lamp as it is described over a reload of this tab, and brings back what was described before.
 * What its meters showed is not kept: they would have moved on.
 */
export function keepLampDraft(model: LampModel): void {
  const unchanged = described(model)
  const before = draftFrom(typedBefore(nameOf(model)))
  if (before) model.change(formOfLamp(before.name, before.lamp))
  effect(() => {
    const now = described(model)
    storeTyped(nameOf(model), now === unchanged ? '' : now)
  })
}

/** The kit has the lamp as it is. */
export function forgetLampDraft({ lampId }: Pick<LampModel, 'lampId'>): void {
  storeTyped('lamp new', '')
  storeTyped(`lamp ${lampId}`, '')
}

function draftFrom(text: string): v.InferOutput<typeof lampDraft> | null {
  try {
    const parsed = v.safeParse(lampDraft, JSON.parse(text))
    return parsed.success ? parsed.output : null
  } catch {
    return null
  }
}
