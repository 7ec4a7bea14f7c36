import type { FrameLevels } from './recover-response.ts'

/**
 * ln of the linear ratio of a channel to red by equal codes: where red reads a code at exposure tR
 * and the other channel reads the same code at tC, the ratio of their light is tR/tC, whatever the
 * tone curve is, as long as it acts on each channel alike.
 *
 * Between frames red is interpolated linearly in ln exposure against nominal ln light, in which
 * tone curves are nearly straight. Nothing is corrected for (black level, drift).
 *
 * @returns null where no code of the channel lies among those of red
 */
export function equalCodeRatio(frames: readonly FrameLevels[], channel: 1 | 2): number | null {
  const red = frames
    .flatMap((f) =>
      f.nominal[0] === null ? [] : [{ u: f.nominal[0], t: f.lnExposure + f.lnGain[0] }],
    )
    .sort((a, b) => a.u - b.u)
  let [sum, weights] = [0, 0]
  for (const frame of frames) {
    const u = frame.nominal[channel]
    if (u === null) continue
    const above = red.findIndex((r) => r.u >= u)
    if (above <= 0) continue
    const [low, high] = [red[above - 1]!, red[above]!]
    const tRed = low.t + ((u - low.u) / (high.u - low.u)) * (high.t - low.t)
    const w = 1 / frame.uncertainty[channel] ** 2
    sum += w * (tRed - frame.lnExposure - frame.lnGain[channel])
    weights += w
  }
  return weights > 0 ? sum / weights : null
}
