import type { LiveLine } from '../../estimate/live/live-line.ts'
import { FrameBins } from '../../estimate/recording/bins.ts'
import { EstimateSampler } from '../../estimate/recording/estimate-sampler.ts'
import { LineFollower } from '../../estimate/recording/reading-by-line.ts'
import type { Region } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { Rolling } from '../../light/live/rolling.ts'
import { surroundings } from '../../light/measure-photo.ts'
import { LARGEST_CLIPPED_SHARE } from '../../light/patch.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { DriftWatch } from '../live/drift-watch.ts'
import { type FrameBase, glowLight, lnRatioOf, meanOf } from '../live/frame-ratio.ts'
import type { LiveFrame } from '../live/live-frame.ts'
import type { FrameLook, FrameLookInput } from '../live/live-operations.ts'
import { findInSmall } from '../live/look.ts'
import type { VideoCurve, VideoGap, VideoReading } from './video-operations.ts'

/** A frame with its time in the film, s. It is closed by who reads it. */
export interface TimedFrame {
  readonly seconds: number
  readonly frame: LiveFrame
}

/** Between searches for the glow, and between whole estimates while it changes little, s of the film. */
const FIND_SECONDS = 1
const LOOK_SECONDS = 2
/** A change of ln(G/R) that asks for a whole estimate: 12 K at 1200 K. */
const LOOK_CHANGE = 0.035
/**
 * Weight of each frame in the course of ln(G/R) that is watched for it. Single frames of a dim glow
 * differ by more: each would ask for an estimate, and these are most of what a film costs.
 */
const WATCHED = 0.2
/** Frames that a reading is made of at most: more cost time and take little noise away. */
const FRAMES_A_READING = 3

/** Weight of the latest look among the surroundings. */
const LATEST = 0.3

type Looking = (input: FrameLookInput) => FrameLook | Promise<FrameLook>

/**
 * The curve of a film. The region follows the glow or stands; each reading is the median of some
 * frames, by whole estimates as live. A glow that is lost or clipped is a gap.
 *
 * @param frames in order of time
 * @param progress told the time in the film, s, after each reading
 */
export async function readFrames(
  frames: AsyncIterable<TimedFrame>,
  { region: fixed, captureSeconds, perSecond, settings, curve }: Omit<VideoReading, 'file'>,
  look: Looking,
  progress: (seconds: number) => void = () => {},
): Promise<VideoCurve> {
  const out = emptyCurve()
  const bins = new FrameBins()
  const follower = new LineFollower(true)
  const samples = new EstimateSampler()
  const drift = new DriftWatch()
  const rolling = new Rolling()
  let drifts = -1
  let first: number | null = null
  let bin = -1
  let taken = 0
  let region: Region | null = fixed
  let lastFind = Number.NEGATIVE_INFINITY
  let lastLook = Number.NEGATIVE_INFINITY
  let watched = Number.NaN
  let lookedAt = Number.NaN
  let line: LiveLine | null = null
  let base: FrameBase = { background: null, recovered: curve.recovered }
  let gap: VideoGap | null = 'lost'
  let lastSeconds = 0

  const close = (seconds: number) => {
    const value = bins.take()
    const reading = value && follower.read(value.plain, value.lnNoise)
    const ms = Math.round(1000 * seconds)
    if (ms <= (out.ms.at(-1) ?? -1)) return
    out.ms.push(ms)
    out.temperatureK.push(reading?.temperatureK ?? Number.NaN)
    out.noiseK.push(reading?.noiseK ?? Number.NaN)
    out.commonK.push(reading?.commonK ?? Number.NaN)
    out.lnRatio.push(reading?.lnRatio ?? Number.NaN)
    out.lnRed.push(value?.lnRed ?? Number.NaN)
    out.gap.push(reading ? null : (gap ?? 'lost'))
    out.flickers.push(reading !== null && rolling.get()?.motion === 'flicker')
  }

  const lose = (why: VideoGap) => {
    gap = why
    bins.clear()
    rolling.clear()
    follower.clear()
    line = null
    watched = Number.NaN
    if (!fixed) region = null
  }

  /** A whole estimate about the region, from the part of the frame that it needs. */
  const estimate = async (
    frame: LiveFrame,
    at: Region,
    seconds: number,
    before: number,
  ): Promise<void> => {
    const { width, height } = frame
    const box = evenBox(surroundings(at, width, height), width, height)
    const found = await look({
      pixels: await frame.copy(box),
      sight: { ...at, x: at.x - box.left, y: at.y - box.top },
      card: null,
      settings:
        drifts < 0
          ? settings
          : { ...settings, balanceState: { kind: 'automatic', colourTemperatureK: null } },
      curve,
      // A film does not state how it was exposed.
      exposure: null,
    })
    if (found.surroundings) {
      drift.add(found.surroundings)
      if (drifts < 0 && drift.drifts()) drifts = out.ms.length
    }
    if (!found.line || !found.plain || found.line.slopeK === null) {
      const refusal = found.measurement?.findings.find(({ weight }) => weight === 'refusal')?.code
      const dim = refusal === 'dark' || found.line?.estimate.kind === 'below range'
      lose(refusal === 'clipped' ? 'clipped' : dim ? 'below range' : 'lost')
      return
    }
    line = found.line
    base = { recovered: curve.recovered, background: averaged(base.background, found.background) }
    const plain = lnRatioOf(glowLight(found.plain, base))
    follower.follow(line, plain)
    samples.add(seconds * captureSeconds, line)
    lastLook = seconds
    // Other surroundings taken off are no change of the glow.
    watched += plain - before
    lookedAt = watched
  }

  for await (const { seconds: shown, frame } of frames) {
    try {
      first ??= shown
      const seconds = shown - first
      lastSeconds = seconds
      const place = Math.floor(seconds * captureSeconds * perSecond + 1e-6)
      if (place !== bin) {
        if (bin >= 0) {
          close((bin + 0.5) / perSecond)
          progress(seconds)
        }
        // Frames that are missing are missing readings, not one long one.
        bin = place
        taken = 0
      }
      if (taken >= FRAMES_A_READING) continue
      if (!fixed && seconds - lastFind >= (region ? FIND_SECONDS : FIND_SECONDS / 4)) {
        lastFind = seconds
        const next = await find(frame)
        if (next === null) lose('lost')
        else if (next === 'clipped') lose('clipped')
        else if (!region || moved(region, next)) {
          region = next
          bins.clear()
          rolling.clear()
          lastLook = Number.NEGATIVE_INFINITY
        }
      }
      if (!region) continue
      const mean = await meanOf(frame, region)
      if (!mean) {
        lose('lost')
        continue
      }
      if (mean.clippedShare > LARGEST_CLIPPED_SHARE) {
        lose('clipped')
        continue
      }
      const seen = glowLight(mean.linear, base)
      const plain = lnRatioOf(seen)
      if (!Number.isFinite(plain)) {
        lose('below range')
        continue
      }
      watched = Number.isNaN(watched) ? plain : watched + WATCHED * (plain - watched)
      const changed = !(Math.abs(watched - lookedAt) < LOOK_CHANGE)
      if (!line || changed || seconds - lastLook >= LOOK_SECONDS) {
        await estimate(frame, region, seconds, plain)
        if (!line) continue
      }
      gap = null
      taken++
      const lnRed = Math.log(seen[0])
      bins.add({ plain, lnRed })
      rolling.add(plain, lnRed)
    } finally {
      frame.close()
    }
  }
  if (bin >= 0) close((bin + 0.5) / perSecond)
  progress(lastSeconds)
  shift(out, follower.meanResidual)
  return { ...out, driftsFrom: drifts, looks: samples.samples }
}

/** To the height of the mean of all estimates. */
function shift({ temperatureK }: { temperatureK: number[] }, inverse: number): void {
  for (const [i, kelvin] of temperatureK.entries()) temperatureK[i] = 1 / (1 / kelvin + inverse)
}

function emptyCurve() {
  return {
    ms: [] as number[],
    temperatureK: [] as number[],
    noiseK: [] as number[],
    commonK: [] as number[],
    lnRatio: [] as number[],
    lnRed: [] as number[],
    gap: [] as (VideoGap | null)[],
    flickers: [] as boolean[],
  }
}

/** Surroundings of several looks: one alone would put its own error into the course. */
function averaged(before: Triple | null, latest: Triple | null): Triple | null {
  if (!before || !latest) return latest ?? before
  return before.map((v, c) => v + LATEST * (latest[c]! - v)) as unknown as Triple
}

/** Pixels of the small picture in which the glow is sought. */
const SEARCHED_PIXELS = 130_000

/** The glow in a whole frame; null where there is none. */
async function find(frame: LiveFrame): Promise<Region | 'clipped' | null> {
  const { width, height } = frame
  const whole: PixelBox = { left: 0, top: 0, right: width & ~1, bottom: height & ~1 }
  const pixels = await frame.copy(whole)
  const step = Math.max(1, Math.ceil(Math.sqrt((width * height) / SEARCHED_PIXELS)))
  const { region, absence } = findInSmall(frameCodes(pixels, step), step)
  return region ?? (absence === 'all clipped' ? 'clipped' : null)
}

/** The region goes along only where the glow has gone on: one that jitters would restart the mean. */
function moved(before: Region, after: Region): boolean {
  const dx = after.x + after.width / 2 - before.x - before.width / 2
  const dy = after.y + after.height / 2 - before.y - before.height / 2
  const side = Math.min(before.width, before.height)
  const ratio = (after.width * after.height) / (before.width * before.height)
  return Math.hypot(dx, dy) > 0.25 * side || ratio > 2 || ratio < 0.5
}
