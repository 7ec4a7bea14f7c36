import { FLAGS, type Flag, type RecordingColumns } from '../../log/recordings/columns.ts'
import type { PlotSpan } from '../../ui/plots/plot-types.ts'
import { FLAG_WORDS } from '../../ui/words/recording.ts'

const NAMES = Object.keys(FLAGS) as Flag[]
/** Stretches of one trouble that are nearer than this share of the whole count as one. */
const NEAR = 0.02
/** Stretches told at most: with more the plot would be all names. */
const MOST = 12

/** Where something was wrong with a recording, in seconds: a changed exposure is a moment. */
export function troubleSpans({ ms, flags }: RecordingColumns): PlotSpan[] {
  const whole = (ms[ms.length - 1] ?? 0) / 1000
  return NAMES.flatMap((name) => {
    const moment = name === 'exposure changed'
    const spans: { from: number; to: number }[] = []
    for (let i = 0; i < ms.length; i++) {
      if (!(flags[i]! & FLAGS[name])) continue
      // A reading stands for the time about it.
      const [from, to] = [ms[Math.max(i - 1, 0)]! / 1000, ms[i]! / 1000]
      const last = spans.at(-1)
      if (last && from - last.to <= NEAR * whole) last.to = to
      else spans.push({ from: moment ? to : from, to })
    }
    if (spans.length > MOST) return []
    return spans.map(
      ({ from, to }): PlotSpan => ({
        kind: moment ? 'mark' : 'trouble',
        from,
        to: moment ? from : to,
        label: FLAG_WORDS[name],
      }),
    )
  })
}

/** "Share of the readings: overexposed 12 %, glow lost 3 %." */
export function troubleShares({ flags, temperatureK }: RecordingColumns): string {
  const counts = NAMES.map((name) =>
    flags.reduce((n, value) => n + (value & FLAGS[name] ? 1 : 0), 0),
  )
  const told = NAMES.flatMap((name, k) => {
    const part = counts[k]! / Math.max(flags.length, 1)
    return part > 0 ? [`${FLAG_WORDS[name]} ${part < 0.01 ? '< 1' : Math.round(100 * part)} %`] : []
  })
  const gaps = temperatureK.some((value) => !Number.isFinite(value))
  if (told.length === 0) return gaps ? 'Some moments have no figure.' : ''
  return `Share of the readings: ${told.join(', ')}.`
}
