/** A later map less an earlier one of a bar whose true change is known, by cameras that the locus has not seen. */
import { NORMAL_95 } from '../../src/estimate/budget.ts'
import { ofOnePiece, temperatureDifference } from '../../src/estimate/difference.ts'
import { changeSummary, mapChange } from '../../src/estimate/map/map-change.ts'
import { simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { seedOf } from './bench.ts'
import type { TestSet } from './cameras.ts'
import { FINE, gradient, HALVED, type MapKind, mapped, type Place } from './heat-maps.ts'
import { exactCard } from './paths.ts'
import { SENSOR } from './photograph.ts'
import { seeded } from './random.ts'
import { drawCurve } from './tone-curves.ts'

export interface ChangeKind extends Omit<MapKind, 'heat'> {
  readonly earlier: Place
  readonly later: Place
}

const along = gradient()
/** The bar 30 K hotter, with a spot of 50 K more and 40 pixels wide. */
const hotter: Place = (x, y) =>
  along(x, y) + 30 + 50 * Math.exp(-((x - 110) ** 2 + (y - 64) ** 2) / (2 * 17 ** 2))

const kind = (
  name: string,
  later: Place,
  coding: MapKind['coding'],
  curved = false,
): ChangeKind => ({
  name,
  earlier: along,
  later,
  coding,
  curved,
  salt: false,
})

export const MAP_CHANGES: readonly ChangeKind[] = [
  kind('map change, 16 bit', hotter, null),
  kind('map change, JPEG', hotter, FINE),
  kind('map change, 4:2:0', hotter, HALVED),
  kind('map change, tone curve', hotter, HALVED, true),
  kind('map change, none', along, null),
]

/** Pixels by which the later picture is displaced. */
const MOVED = [9, -4] as const
const PLACES = 60

export interface ChangeScore {
  readonly name: string
  readonly pairs: number
  readonly refused: number
  /** Of the change of cells drawn at random: all of it, and against the middle one. */
  readonly coverage95: number
  readonly unevenCoverage95: number
  readonly rmsK: number
  readonly halfWidth95K: number
  /** Error of the alignment, root mean square each way, pixels. */
  readonly alignmentPixels: number
  /** Share of cells that were told to have changed. */
  readonly told: number
}

export function scoreChanges(
  set: TestSet,
  of: ChangeKind,
  { cameras = set.cameras.length }: { readonly cameras?: number } = {},
): ChangeScore {
  let [pairs, refused, places, covered, uneven, squares, widths] = [0, 0, 0, 0, 0, 0, 0]
  let [misplaced, told] = [0, 0]
  for (const [index, camera] of set.cameras.slice(0, cameras).entries()) {
    const random = seeded(seedOf(index, of.name, 0))
    const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
    const shared = {
      card: exactCard(simulated, SENSOR, random),
      curve: of.curved ? drawCurve('contrast', random) : null,
    }
    const photo = (heat: Place, moved: readonly [number, number]) =>
      mapped(set, camera, { ...of, heat: () => heat }, random, { ...shared, moved })
    const [before, after] = [photo(of.earlier, [0, 0]), photo(of.later, MOVED)]
    const readings =
      before &&
      after &&
      temperatureDifference(ofOnePiece(before.input), ofOnePiece(after.input), camera.locus)
    const found = readings && mapChange(before.map, after.map, { ...readings, oneCamera: true })
    if (found?.kind !== 'change') {
      refused++
      continue
    }
    pairs++
    const { columns, side, shift, changeK, standardUncertaintyK, againstMiddleK } = found
    misplaced += (shift.dx - MOVED[0]) ** 2 + (shift.dy - MOVED[1]) ** 2
    const truthK = (at: number) => {
      const [x, y] = [((at % columns) + 0.5) * side, (Math.floor(at / columns) + 0.5) * side]
      return of.later(x, y) - of.earlier(x, y)
    }
    const read = [...changeK.keys()].filter((at) => Number.isFinite(changeK[at]!))
    // The middle one's own truth: the mean true change of cells about the middle change.
    const near = read.filter((at) => Math.abs(changeK[at]! - found.middleK) < 2)
    const middleK = near.reduce((sum, at) => sum + truthK(at), 0) / near.length
    for (let i = 0; i < PLACES; i++) {
      const at = read[Math.floor(random.uniform() * read.length)]!
      const error = changeK[at]! - truthK(at)
      places++
      squares += error * error
      widths += NORMAL_95 * standardUncertaintyK[at]!
      if (Math.abs(error) <= NORMAL_95 * standardUncertaintyK[at]!) covered++
      const against = changeK[at]! - found.middleK - (truthK(at) - middleK)
      if (Math.abs(against) <= NORMAL_95 * againstMiddleK[at]!) uneven++
    }
    const summary = changeSummary(changeK, standardUncertaintyK)
    told += summary.hotter + summary.cooler
  }
  return {
    name: of.name,
    pairs,
    refused,
    coverage95: covered / places,
    unevenCoverage95: uneven / places,
    rmsK: Math.sqrt(squares / places),
    halfWidth95K: widths / places,
    alignmentPixels: Math.sqrt(misplaced / (2 * pairs)),
    told: told / pairs,
  }
}
