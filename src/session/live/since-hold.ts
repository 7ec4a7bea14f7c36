import { effect, type ReadonlySignal, signal } from '@preact/signals'
import type { TemperatureDifference } from '../../estimate/difference.ts'
import type { LiveFigure } from '../../estimate/live/live-line.ts'
import type { GlowInput } from '../../estimate/types.ts'
import type { LiveBench } from '../../sources/live/live-client.ts'

export interface SinceHold {
  /** How much hotter than at the latest hold; null before one, while held, and without a figure. */
  readonly difference: ReadonlySignal<TemperatureDifference | null>
  dispose(): void
}

/** A difference takes a phone some tenths of a second: so often, in ms, it is worked out anew. */
const PACE_MS = 1000

/** Keeps what was held, and how far the live figure has moved from it. */
export function createSinceHold(live: {
  readonly held: ReadonlySignal<boolean>
  readonly figure: ReadonlySignal<LiveFigure | null>
  readonly bench: Pick<LiveBench, 'difference'>
  /** The reading as it stands; null without a figure. */
  readonly inputNow: () => GlowInput | null
}): SinceHold {
  const difference = signal<TemperatureDifference | null>(null)
  let atHold: GlowInput | null = null
  let busy = false
  let disposed = false
  let timer: ReturnType<typeof setTimeout> | undefined

  const compare = async () => {
    const now = live.inputNow()
    if (busy || !atHold || !now || live.held.peek()) return
    busy = true
    const from = atHold
    try {
      const found = await live.bench.difference({ first: from, second: now })
      if (!disposed && from === atHold && !live.held.peek()) difference.value = found
    } catch {
      // The bench was closed meanwhile.
    } finally {
      timer = setTimeout(() => {
        busy = false
      }, PACE_MS)
    }
  }
  const stop = effect(() => {
    if (live.held.value) {
      atHold = live.inputNow() ?? atHold
      difference.value = null
    } else if (live.figure.value) void compare()
    else difference.value = null
  })
  return {
    difference,
    dispose() {
      disposed = true
      clearTimeout(timer)
      stop()
    },
  }
}
