import type { ToneCurveCheck } from '../../light/exposure-sweep/check-tone-curve.ts'
import { showDay } from './dates.ts'
import type { Notice } from './estimate.ts'

const months = (days: number) => {
  const count = Math.round(days / 30)
  return Number.isFinite(count) ? `${count} months` : 'An unknown time'
}

/** Sentences about a tone curve of the kit and the photo that it is offered to. */
export const STORED_CURVE = {
  uncheckedForLong: (days: number): Notice => ({
    weight: 'warn',
    title: `${months(days)} between the tone curve and this photo`,
    todo: 'An update may have changed the camera: the curve counts as less certain. Check it, or sweep again.',
  }),
  cameraNotNamed: {
    weight: 'warn',
    title: 'The file does not name its camera',
    todo: 'The kept tone curve may be another’s: it counts as less certain. Check it.',
  } satisfies Notice,
  failed: (name: string, at: string): Notice => ({
    weight: 'warn',
    title: `“${name}” did not hold on ${showDay(at)}`,
    todo: 'It is not used. Sweep again, and delete it in the kit.',
  }),
  otherPath: (changed: 'lens' | 'software' | 'colour space'): Notice => ({
    weight: 'warn',
    title: `Another ${changed} than in the sweep`,
    todo: 'The kept tone curve is not used. Sweep again with this camera as it is now.',
  }),
  earlierVersion: (name: string): Notice => ({
    weight: 'warn',
    title: `“${name}” was made by an earlier version`,
    todo: 'This version cannot use it. Sweep again.',
  }),
}

const percent = (ln: number) => `${(100 * ln).toFixed(1)} %`

/**
 * What a check on new photos has shown.
 *
 * @param swept the photos are a whole sweep, with a curve of its own
 */
export function curveCheckNotice(check: ToneCurveCheck, swept: boolean): Notice {
  if (check.kind === 'checked') {
    const residual = percent(check.residual)
    return check.agrees
      ? {
          weight: 'note',
          title: 'The kept tone curve holds',
          todo: `Undone by it, the light follows the exposures to ${residual}.`,
        }
      : {
          weight: 'warn',
          title: 'The kept tone curve no longer holds',
          todo: `Undone by it, light and exposures differ by ${residual}. ${swept ? 'Keep the new one below.' : 'It is not used: sweep again.'}`,
        }
  }
  const weight = 'warn'
  const title = 'The kept tone curve could not be checked'
  switch (check.reason) {
    case 'other colour space':
      return { weight, title, todo: 'The photos have another colour space. Sweep again.' }
    case 'too few frames':
      return {
        weight,
        title,
        todo: 'It takes two photos in which the glow is neither clipped nor dark.',
      }
    case 'exposures do not differ':
      return { weight, title, todo: 'The photos must be two stops apart or more.' }
    case 'moved':
      return { weight, title, todo: 'The scene moved between the photos. Use a stand.' }
  }
}
