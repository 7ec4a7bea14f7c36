/** Unsaved work lives beside the screen: a look at the chart loses none of it. */
import { signal } from '@preact/signals'
import * as v from 'valibot'
import { temperatureK, uncertaintyK } from '../../log/schema/quantities.ts'
import { captureDraft, NOTES } from '../draft.ts'
import { rememberOpen } from '../reading/put-away.ts'
import { type CaptureModel, createCaptureModel } from './capture-model.ts'
import type { KitModel } from './kit-model.ts'
import type { LampModel } from './lamp-model.ts'
import { isFixedPointId, type Subject } from './subject.ts'

export const openCapture = signal<CaptureModel | null>(null)
/** The capture is a step of making a camera ready: it leads back there. */
export const captureForReady = signal(false)
export const openLamp = signal<LampModel | null>(null)

/** The capture of a subject: a photo that is open already stays, whatever it shows. */
export function captureOf(kit: KitModel, subject: Subject): CaptureModel {
  const current = openCapture.peek()
  if (current) {
    current.subject.value = subject
    return current
  }
  const made = createCaptureModel(kit, subject)
  openCapture.value = made
  return made
}

export function discardCapture(): void {
  openCapture.peek()?.dispose()
  openCapture.value = null
}

/**
 * Puts the open photo away; the subject and its capture stay where `keep` is said.
 *
 * @returns what brings it back; null where no photo was open
 */
export async function putCaptureAway(
  kit: KitModel,
  { keep }: { readonly keep: boolean },
): Promise<(() => void) | null> {
  const capture = openCapture.peek()
  if (!capture) return null
  const subject = capture.subject.peek()
  const bringBack = await rememberOpen(capture.reading, captureDraft)
  // Another may have taken its place meanwhile: that one stays.
  if (openCapture.peek() !== capture) return null
  if (keep) await capture.reading.clear()
  else discardCapture()
  return bringBack && (() => void bringBack(captureOf(kit, subject).reading))
}

/** Only known heats come back by themselves; of a lamp the meters would have moved on. */
export const captureShape = v.object({
  subject: v.object({
    kind: v.literal('known heat'),
    choice: v.object({
      id: v.pipe(v.string(), v.check(isFixedPointId)),
      atmosphere: v.optional(v.picklist(['covered', 'open-air'])),
      steelClass: v.optional(v.picklist(['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'])),
      valueK: v.optional(temperatureK),
      limitsOfErrorK: v.optional(uncertaintyK),
    }),
  }),
})

const photoIsOpen = () => Boolean(openCapture.peek()?.reading.glow.photo.peek())

/**
 * Takes up a photo that a reload interrupted, also where its screen has begun an empty capture of the
 * same heat meanwhile; another one stays as it is.
 */
export async function resumeCapture(kit: KitModel): Promise<void> {
  if (photoIsOpen()) return
  const photo = await captureDraft.photo()
  if (!photo || photoIsOpen()) return
  const notes = await captureDraft.find(NOTES)
  const parsed = v.safeParse(captureShape, notes)
  if (!parsed.success) {
    void captureDraft.discard()
    return
  }
  const begun = openCapture.peek()?.subject.peek()
  const { choice } = parsed.output.subject
  if (begun && (begun.kind !== 'known heat' || begun.choice.id !== choice.id)) return
  const capture = captureOf(kit, parsed.output.subject as Subject)
  await capture.reading.resume(photo, notes)
}
