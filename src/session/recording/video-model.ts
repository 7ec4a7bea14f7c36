import { batch, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { BalanceState } from '../../estimate/types.ts'
import type { Region } from '../../light/image.ts'
import type { Log } from '../../log/schema/types.ts'
import { openVideoBench, type VideoBench } from '../../sources/video/video-client.ts'
import { streamName, type VideoFacts } from '../../sources/video/video-operations.ts'
import { VideoRefused } from '../../sources/video/video-refused.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { surfaceOf, windowOf } from '../reading/glow-input.ts'
import { saveFilm } from './video-record.ts'

/** Readings of a recording from a film at most; hours are thinned. */
const MOST_READINGS = 36_000
const MOST_A_SECOND = 10

export interface VideoChoices {
  /** Empty while nobody has said it. */
  readonly materialId: string
  readonly cover: string
  readonly balanceState: BalanceState['kind']
  readonly exposure: 'unknown' | 'locked'
  /** How many times slower it plays than it was taken; 1 for ordinary films. */
  readonly slowedBy: number
  readonly object: string
  /** Which of the kit's cameras filmed it: a film does not say. Empty where nobody has said it. */
  readonly device: string
}

export interface VideoModel {
  readonly file: ReadonlySignal<File | null>
  readonly facts: ReadonlySignal<VideoFacts | null>
  /** Where it is paused, s from its beginning. */
  readonly paused: ReadonlySignal<number>
  /** The picture there, as it is shown. */
  readonly preview: ReadonlySignal<ImageBitmap | null>
  /** What it cannot be read for, or what the log refused. */
  readonly failure: ReadonlySignal<unknown>
  readonly choices: Signal<VideoChoices>
  /** Middle of a fixed place, as shares of the picture as it is shown; null: follows the glow. */
  readonly fixed: Signal<{ readonly x: number; readonly y: number } | null>
  /** 0..1 while it is read; null else. */
  readonly progress: ReadonlySignal<number | null>
  readonly secondsLeft: ReadonlySignal<number | null>
  open(file: File): Promise<void>
  pauseAt(seconds: number): Promise<void>
  /** The picture at which it is paused, as a photo file; null when it failed. */
  still(): Promise<File | null>
  /** The id of the recording; null when it was stopped or failed. */
  read(): Promise<string | null>
  cancel(): void
  dispose(): void
}

export function createVideoModel(
  log: Promise<Log>,
  kit: Pick<KitModel, 'references' | 'curves' | 'cameras'>,
  openBench = openVideoBench,
): VideoModel {
  const file = signal<File | null>(null)
  const facts = signal<VideoFacts | null>(null)
  const preview = signal<ImageBitmap | null>(null)
  const paused = signal(0)
  const failure = signal<unknown>(null)
  const progress = signal<number | null>(null)
  const secondsLeft = signal<number | null>(null)
  const fixed = signal<{ x: number; y: number } | null>(null)
  const choices = signal<VideoChoices>({
    materialId: '',
    cover: 'none',
    balanceState: 'unknown',
    exposure: 'unknown',
    slowedBy: 1,
    object: '',
    device: '',
  })
  let bench: VideoBench | null = null
  let asked = 0

  const testsOf = (device: string) =>
    kit.cameras.peek().find(({ data }) => data.device === device)?.data.leakTests ?? []

  const stop = () => {
    asked++
    bench?.close()
    bench = null
    batch(() => {
      progress.value = null
      secondsLeft.value = null
    })
  }

  return {
    file,
    facts,
    preview,
    paused,
    failure,
    choices,
    fixed,
    progress,
    secondsLeft,
    async open(next) {
      stop()
      const mine = asked
      preview.peek()?.close()
      batch(() => {
        file.value = next
        facts.value = null
        preview.value = null
        paused.value = 0
        failure.value = null
        fixed.value = null
      })
      bench = openBench(null)
      try {
        const found = await bench.facts(next)
        if (mine !== asked) return
        facts.value = found
        preview.value = await bench.preview(next, 0)
      } catch (error) {
        // Another film, or another place of this one before its first picture came.
        if (mine !== asked || (facts.peek() && (error as Error).name === 'AbortError')) return
        batch(() => {
          // What has no first picture is not offered to be read.
          facts.value = null
          failure.value = error
        })
      }
    },
    async pauseAt(seconds) {
      const [of, mine] = [file.peek(), asked]
      if (!of || progress.peek() !== null) return
      paused.value = seconds
      bench ??= openBench(facts.peek())
      try {
        const next = await bench.preview(of, seconds)
        if (mine !== asked || paused.peek() !== seconds || !next) return next?.close()
        preview.peek()?.close()
        preview.value = next
      } catch (error) {
        // A later place has been asked for.
        if ((error as Error).name !== 'AbortError' && mine === asked) failure.value = error
      }
    },
    async still() {
      const [of, about] = [file.peek(), facts.peek()]
      if (!of || !about) return null
      bench ??= openBench(facts.peek())
      try {
        const found = await bench.still(of, paused.peek())
        if (!found) throw new VideoRefused({ code: 'codec', codec: about.codec })
        const name = `${of.name.replace(/\.[^.]+$/, '')} ${paused.peek().toFixed(1)} s.tif`
        return new File([found], name, { type: found.type })
      } catch (error) {
        failure.value = error
        return null
      }
    },
    async read() {
      const [of, about] = [file.peek(), facts.peek()]
      if (!of || !about || progress.peek() !== null) return null
      bench ??= openBench(facts.peek())
      const mine = asked
      const said = choices.peek()
      const captureSeconds = 1 / said.slowedBy
      const duration = about.durationSeconds * captureSeconds
      const began = performance.now()
      failure.value = null
      progress.value = 0
      try {
        const curve = await bench.read(
          {
            file: of,
            region: regionOf(fixed.peek(), about),
            captureSeconds,
            // Of the real thing: slow motion has as many readings a second of film.
            perSecond: Math.min(
              MOST_A_SECOND * said.slowedBy,
              MOST_READINGS / Math.max(duration, 1e-3),
            ),
            settings: {
              channels: 'display-p3',
              cameraToXyz: null,
              balanceState: { kind: said.balanceState, colourTemperatureK: null },
              surface: surfaceOf(said.materialId),
              window: windowOf(said.cover),
              cameraId: streamName(about),
              takenAt: null,
              references: kit.references.peek(),
              leakTests: testsOf(said.device),
            },
            curve: { id: `${streamName(about)} stream`, recovered: null, movedBy: 0 },
          },
          (share) => {
            if (mine !== asked) return
            const spent = (performance.now() - began) / 1000
            batch(() => {
              progress.value = share
              secondsLeft.value = share > 0.02 ? (spent * (1 - share)) / share : null
            })
          },
        )
        return mine === asked ? await saveFilm(await log, curve, of, about, said) : null
      } catch (error) {
        if (mine === asked) failure.value = error
        return null
      } finally {
        if (mine === asked)
          batch(() => {
            progress.value = null
            secondsLeft.value = null
          })
      }
    },
    cancel: stop,
    dispose() {
      stop()
      preview.peek()?.close()
    },
  }
}

/** Side of a fixed place over the picture's height. */
const SIGHT = 0.12

/** A place in the shown picture to a region of the stored one, which is turned. */
export function regionOf(
  fixed: { readonly x: number; readonly y: number } | null,
  { width, height, rotation }: Pick<VideoFacts, 'width' | 'height' | 'rotation'>,
): Region | null {
  if (!fixed) return null
  const { x, y } = fixed
  // Shares of the stored picture; it is shown turned clockwise by the rotation.
  const stored: Record<number, readonly [number, number]> = {
    0: [x, y],
    90: [y, 1 - x],
    180: [1 - x, 1 - y],
    270: [1 - y, x],
  }
  const [u, v] = stored[rotation] ?? [x, y]
  const turned = rotation % 180 === 90
  const [w, h] = turned ? [height, width] : [width, height]
  const side = Math.min(SIGHT * Math.min(w, h), 96)
  return {
    shape: 'rectangle',
    x: Math.min(Math.max(u * w - side / 2, 0), w - side),
    y: Math.min(Math.max(v * h - side / 2, 0), h - side),
    width: side,
    height: side,
  }
}
