import { signal } from '@preact/signals'

/** What the live camera saw last, for every screen while a job is open. */
export interface GlowWatch {
  readonly kind: 'glowing' | 'glow gone'
  /** Since when. */
  readonly since: Date
  /** The last figure, K; null where it never had one. */
  readonly temperatureK: number | null
}

export const glowWatch = signal<GlowWatch | null>(null)

/**
 * Tells what the camera sees now. A glow that is gone stays told until a new one is seen: metal that
 * has stopped glowing is still hot, and nobody can say when it may be touched.
 *
 * @param seen whether there is a glow; null where the camera cannot say
 */
export function noteGlow(seen: boolean | null, temperatureK: number | null, at: Date): void {
  const before = glowWatch.peek()
  if (seen === null) return
  if (seen) {
    const since = before?.kind === 'glowing' ? before.since : at
    glowWatch.value = {
      kind: 'glowing',
      since,
      temperatureK: temperatureK ?? before?.temperatureK ?? null,
    }
  } else if (before?.kind === 'glowing') {
    glowWatch.value = { kind: 'glow gone', since: at, temperatureK: before.temperatureK }
  }
}

export const dismissGlow = (): void => {
  glowWatch.value = null
}
