import { firstAtOrAfter, type HeatCurve, type Readings } from './heat-curve.ts'
import { type FittedLine, LineSums } from './line-sums.ts'
import { findPlateaus, type Plateau } from './plateaus.ts'

/** The brightness must show at least this share of the slowing that the temperature shows. */
const SHARE = 0.5
/** A rate counts as known from so many standard errors on. */
const KNOWN = 5
const LEAST_READINGS = 5
/** Less slowing than this between the same stretches of both says nothing. */
const LEAST_SLOWING = 0.2

/** Plateaus of a curve that its brightness does not contradict. */
export function plateausOf(curve: HeatCurve): Plateau[] {
  const plateaus = findPlateaus(curve)
  const { lnRed } = curve
  if (!lnRed || plateaus.length === 0) return plateaus
  const { seconds, temperatureK, jumps = [] } = curve
  const present = Array.from(seconds, (_, i) => i).filter(
    (i) => Number.isFinite(temperatureK[i]!) && Number.isFinite(lnRed[i]!),
  )
  const column = (of: ArrayLike<number>) => Float64Array.from(present, (i) => of[i]!)
  const times = column(seconds)
  const heat = { seconds: times, temperatureK: column(temperatureK) }
  const light = { seconds: times, temperatureK: column(lnRed) }
  return plateaus.filter((plateau) => {
    const [from, to] = besides(plateau)
    const jumped = jumps.some((jump) => jump.seconds >= from && jump.seconds <= to)
    return jumped || slowsInBoth(plateau, heat, light)
  })
}

/** With as much before and after. */
const besides = ({ fromSeconds, toSeconds }: Pick<Plateau, 'fromSeconds' | 'toSeconds'>) => {
  const long = toSeconds - fromSeconds
  return [fromSeconds - long, toSeconds + long] as const
}

/**
 * Whether the brightness slows where the temperature by colour does: both go with 1/T (Wien), so heat
 * that is given off or taken up stands in both. What shows in the colour alone while the brightness
 * goes on as before was made by the picture: codes of a faint green are whole numbers, and a codec
 * rounds them further. True too where nothing can be told: the camera held the brightness itself, or
 * too few readings stand beside.
 */
function slowsInBoth(plateau: Plateau, heat: Readings, light: Readings): boolean {
  const { fromSeconds, toSeconds } = plateau
  const [first, last] = besides(plateau)
  const places = [first, fromSeconds, toSeconds, last].map((at) => firstAtOrAfter(heat.seconds, at))
  const parts = [0, 1, 2].map((k) => [places[k]!, places[k + 1]!] as const)
  if (parts.some(([from, to]) => to - from < LEAST_READINGS)) return true
  const [inHeat, inLight] = [slowing(heat, parts), slowing(light, parts)]
  if (inHeat === null || inLight === null) return true
  if (inHeat.direction !== inLight.direction || inHeat.share < LEAST_SLOWING) return true
  return inLight.share >= SHARE * inHeat.share
}

/** Share by which the middle part is slower than the slower of its sides; null where they differ. */
function slowing(
  readings: Readings,
  parts: readonly (readonly [number, number])[],
): { readonly share: number; readonly direction: number } | null {
  const sums = LineSums.of(readings)
  const [before, within, after] = parts.map(([from, to]) => sums.line(from, to))
  const direction = Math.sign(before!.slope)
  if (direction !== Math.sign(after!.slope) || !known(before!) || !known(after!)) return null
  const slower = Math.min(Math.abs(before!.slope), Math.abs(after!.slope))
  return { share: 1 - (direction * within!.slope) / slower, direction }
}

const known = ({ slope, slopeErrorPerK, squares, count }: FittedLine) =>
  Math.abs(slope) > KNOWN * slopeErrorPerK * Math.sqrt(squares / (count - 2))
