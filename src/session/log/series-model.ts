import { type ReadonlySignal, signal } from '@preact/signals'
import { LogError } from '../../log/schema/errors.ts'
import { currentInputs } from '../../log/schema/reading-schema.ts'
import type { Log, Summary } from '../../log/schema/types.ts'
import { storedGlow } from './stored-glow.ts'

/** All readings of one object, newest first, followed. */
export interface SeriesModel {
  /** Null until they are found. */
  readonly summaries: ReadonlySignal<readonly Summary[] | null>
  /**
   * Of the newest readings by one camera: what moves all together, and each against their mean. Null
   * until it is worked out, and where fewer than two share a camera.
   */
  readonly spread: ReadonlySignal<SeriesSpread | null>
  /** What the log rejected with; null while all is well. */
  readonly failure: ReadonlySignal<unknown>
  dispose(): void
}

/** Standard uncertainties, K. */
export interface SeriesSpread {
  readonly commonK: number
  readonly ownK: ReadonlyMap<string, number>
}

/** Readings whose spread is worked out together: more take a phone seconds. */
const MOST_TOGETHER = 12

export function createSeriesModel(log: Promise<Log>, object: string): SeriesModel {
  const summaries = signal<readonly Summary[] | null>(null)
  const spread = signal<SeriesSpread | null>(null)
  const failure = signal<unknown>(null)
  let stop: (() => void) | undefined
  let disposed = false

  const fail = (error: unknown) => {
    if (!disposed) failure.value = error
  }
  const read = async (opened: Log) => {
    const found = (await opened.find({ object })).summaries()
    if (disposed) return
    summaries.value = found
    spread.value = null
    const together = await spreadOf(opened, found)
    if (!disposed && summaries.peek() === found) spread.value = together
  }
  if (object !== '') {
    log
      .then((opened) => {
        if (disposed) return
        stop = opened.subscribe((change) => {
          if (change.kind === 'closed') failure.value = new LogError({ code: change.code })
          if (change.kind === 'readings' || change.kind === 'everything') read(opened).catch(fail)
        })
        return read(opened)
      })
      .catch(fail)
  }
  return {
    summaries,
    spread,
    failure,
    dispose() {
      disposed = true
      stop?.()
    },
  }
}

async function spreadOf(log: Log, summaries: readonly Summary[]): Promise<SeriesSpread | null> {
  const measured = summaries.filter(
    ({ kind, simulated, demo }) => kind === 'temperature' && !simulated && !demo,
  )
  const stored = await Promise.all(
    measured.slice(0, MOST_TOGETHER).map(async ({ id }) => {
      const found = await log.get(id)
      const input = found?.state === 'sound' ? storedGlow(currentInputs(found.reading)) : null
      return input ? { id, input } : null
    }),
  )
  const byColour = stored.filter((one) => one !== null)
  const [newest] = byColour
  if (!newest || byColour.length < 2) return null
  const [{ joinable }, { jointSpread }, { ofOnePiece }] = await Promise.all([
    import('../../estimate/joint-posterior.ts'),
    import('../../estimate/joint-spread.ts'),
    import('../../estimate/difference.ts'),
  ])
  const together = byColour.filter(({ input }) => joinable(newest.input, input))
  const spread = jointSpread(together.map(({ input }) => ofOnePiece(input)))
  return (
    spread && {
      commonK: spread.commonK,
      ownK: new Map(together.map(({ id }, i) => [id, spread.ownK[i]!])),
    }
  )
}
