import { heatById } from '../../session/kit/subject.ts'
import type { NextStep } from '../../session/reading/next-step.ts'
import type { StoredContradiction, UndecidedCard } from '../../session/reading/stored-for-photo.ts'
import { showPlusMinus } from '../temperature.ts'
import { showDay } from './dates.ts'
import type { Notice } from './estimate.ts'

/** On the one button of a result: what to do, and what it brings. */
export function nextStepWords(step: NextStep): { readonly label: string; readonly line: string } {
  const brings = (afterK: number | null) =>
    afterK === null ? '' : `down to about ${showPlusMinus(afterK)}`
  switch (step.kind) {
    case 'name camera':
      return { label: 'Name the camera', line: 'what is found for it is then kept' }
    case 'state white balance':
      return { label: 'Say how white balance was set', line: 'a lock is kept for this camera' }
    case 'lock':
      return { label: 'Make this camera ready', line: 'lock its white balance first' }
    case 'open raw':
      return {
        label: 'Open its raw file (DNG)',
        line: 'its white balance cannot be locked',
      }
    case 'place card':
      return { label: 'Show where the card lies', line: 'the place is remembered' }
    case 'same settings':
      return { label: 'Say how white balance was set', line: 'the camera is not as it was' }
    case 'add card':
      return { label: 'Add a grey card photo', line: brings(step.afterK) }
    case 'card again':
      return {
        label: 'Photograph the card again',
        line: `if white balance has held: ${brings(step.afterK)}`,
      }
    case 'known heat':
      return {
        label: 'Take a known heat',
        line: `${heatById(step.heat)?.name ?? 'Table salt melts'}: ${brings(step.afterK)}`,
      }
    case 'sweep':
      return { label: 'Take an exposure sweep', line: brings(step.afterK) }
    case 'test infrared':
      return { label: 'Test the camera for infrared', line: 'a remote control, one minute' }
    case 'expose longer':
      return { label: 'Take it again, exposed longer', line: 'as long as nothing clips' }
    case 'expose less':
      return { label: 'Take it again, exposed less', line: 'until the marks are gone' }
    case 'state surface':
      return { label: 'State the surface', line: 'asked once per object' }
    case 'by eye':
      return { label: 'Match it by eye', line: 'the chart goes lower than the camera' }
    case 'check':
      return { label: 'Check whether it can be true', line: 'against supply, brightness, readings' }
  }
}

/** A photo's own word against what is stored of its camera. */
export function contradictionNotice(found: StoredContradiction): Notice {
  const todo = 'What is stored for the lock is not applied to this photo.'
  switch (found.code) {
    case 'white balance automatic':
      return {
        weight: 'warn',
        title: `The lock of ${showDay(found.since)} did not hold: white balance was automatic`,
        todo: `${todo} Lock it and take the photo again.`,
      }
    case 'exposure program':
      return {
        weight: 'warn',
        title: 'The camera was not in its manual mode',
        todo: `${todo} Say below if white balance was locked all the same.`,
      }
    case 'software':
      return {
        weight: 'warn',
        title: `The camera’s software changed: ${found.before}, now ${found.now}`,
        todo: `${todo} Lock white balance again, then take card and sweep again.`,
      }
    case 'lens':
      return {
        weight: 'warn',
        title: `Another lens: ${found.now} instead of ${found.before}`,
        todo: `${todo} Use the lens of the card, or make this one ready too.`,
      }
    case 'card moved':
      return {
        weight: 'warn',
        title: `This card does not agree with “${found.name}”`,
        todo: `Off by ${found.deviations.toFixed(0)} standard deviations: white balance has moved, or the light is not as stated. The stored card is not used here.`,
      }
  }
}

/** Two photos of the card agree. */
export const lockHeldNotice = (card: string): Notice => ({
  weight: 'note',
  title: `White balance has held: this card agrees with “${card}”`,
  todo: 'Readings by this lock are surer from now on.',
})

/** Two photos of the card that leave it open. */
export const undecidedNotice = ({ name, channel, apart }: UndecidedCard): Notice => ({
  weight: 'note',
  title: `This card is ${(100 * apart).toFixed(0)} % off “${name}” in ${channel}`,
  todo: 'The light or the white balance has changed. Take both cards in the same light to see which.',
})

/** A figure with a ± too wide to be worth showing. */
export const IT_GLOWS = {
  title: 'It glows: no more can be said',
  line: (from: string, to: string) => `Anything from ${from} to ${to}.`,
}

export const TOO_DARK = {
  title: 'Too dark',
  todo: 'There is too little green to measure. Expose longer, as long as red does not clip.',
}
