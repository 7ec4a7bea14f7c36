/**
 * How well temperatures are read, and whether the stated intervals are true, on simulated photos by
 * cameras that the estimate has not seen.
 *
 *   npm run accuracy -- [FOLDER] [--json] [--draws N] [--leave camera|make] [--only NAME] [--quick]
 *
 * FOLDER holds camera sensitivities in the JSON form of rawtoaces-data. `--quick` leaves out the
 * capture paths, which photograph whole pixels; `--only` takes one condition or path, `map` for all
 * maps, or `page` for the page of what is left.
 */

import { CAMERAS_FOLDER } from '../measured-data.ts'
import { runBench, TEMPERATURES_K } from './bench.ts'
import { bestPrediction } from './best-prediction.ts'
import { type LeaveOut, testSet } from './cameras.ts'
import { CONDITIONS } from './conditions.ts'
import { DIFFERENCES } from './difference-rows.ts'
import { runDifferences } from './differences.ts'
import { runDisturbed } from './disturbed-bench.ts'
import { FILM_KINDS, type FilmScore, scoreFilms } from './films.ts'
import { MAPS, scoreMaps } from './heat-maps.ts'
import { MAP_CHANGES, scoreChanges } from './map-changes.ts'
import { noiseCheck } from './noise.ts'
import { pageOfWhatIsLeft } from './page-of-what-is-left.ts'
import { PATHS, runPaths } from './paths.ts'
import { SENSOR } from './photograph.ts'
import { rawPath } from './raw-path.ts'
import { READY_PATHS } from './ready-camera.ts'
import { asJson, asText, type Report } from './report.ts'
import { scoreSpots } from './spot-bench.ts'

/** A forging heat, 900 °C: where foresight is looked at. */
const PREDICTION_K = 1173
/** Many rows: fewer draws of each. */
const DISTURBED_SHARE = 4
/** Each map is a whole picture. */
const MAPS_SHARE = 8
const SPOT_BARS = 220
/** A film is some hundred pictures. */
const FILMS_A_DRAW = 6
/** A page is 30 estimates. */
const PAGE_EVERY = 4
const NOISE_CAMERAS = 8
const NOISE_DRAWS = 200

export async function main(argv: readonly string[]): Promise<number> {
  const options = parse(argv)
  const set = testSet(options.folder, options.leave)
  const wanted = ({ name }: { readonly name: string }) =>
    options.only === null || name === options.only
  const { draws } = options
  const asked = CONDITIONS.filter(wanted)
  const conditions = runBench(set, {
    draws,
    sensor: SENSOR,
    temperaturesK: TEMPERATURES_K,
    conditions: asked,
  })
  const way = { draws, sensor: SENSOR }
  const disturbed = runDisturbed(set, {
    draws: Math.max(1, Math.round(draws / DISTURBED_SHARE)),
    sensor: SENSOR,
    only: options.only,
  })
  const paths = options.quick
    ? []
    : [
        ...runPaths(set, way, [...READY_PATHS, ...PATHS].filter(wanted)),
        ...(wanted({ name: 'raw' }) ? [rawPath(set, way)] : []),
        ...runDifferences(set, way, DIFFERENCES.filter(wanted)),
      ]
  const mapsAsked = options.only?.startsWith('map') || (options.only === null && !options.quick)
  const maps = mapsAsked
    ? MAPS.filter(({ name }) => name.startsWith(options.only ?? 'map')).map((kind) =>
        scoreMaps(set, kind, { draws: Math.max(1, Math.round(draws / MAPS_SHARE)) }),
      )
    : []
  const mapChanges = mapsAsked
    ? MAP_CHANGES.filter(({ name }) => name.startsWith(options.only ?? 'map')).map((kind) =>
        scoreChanges(set, kind),
      )
    : []
  const films: FilmScore[] = []
  const filmsAsked = options.only?.startsWith('film') || (options.only === null && !options.quick)
  for (const kind of filmsAsked ? FILM_KINDS : [])
    if (kind.name.startsWith(options.only ?? 'film'))
      films.push(...(await scoreFilms(set, kind, Math.round(FILMS_A_DRAW * draws))))
  const report: Report = {
    cameras: set.cameras.length,
    prior: set.priorNote,
    draws,
    sensor: SENSOR,
    conditions,
    disturbed,
    paths,
    maps,
    mapChanges,
    films,
    spots: mapsAsked ? scoreSpots(SPOT_BARS) : null,
    page:
      options.only === 'page' || (options.only === null && !options.quick)
        ? pageOfWhatIsLeft(set, SENSOR, PAGE_EVERY)
        : [],
    prediction: asked.flatMap((condition) => bestPrediction(set, condition, PREDICTION_K) ?? []),
    noise: options.only === null ? noiseCheck(set, SENSOR, NOISE_CAMERAS, NOISE_DRAWS) : [],
    noiseDraws: NOISE_DRAWS,
  }
  console.log(options.json ? asJson(report) : asText(report))
  return 0
}

interface Options {
  readonly folder: string
  readonly json: boolean
  readonly draws: number
  readonly leave: LeaveOut
  readonly only: string | null
  readonly quick: boolean
}

function parse(argv: readonly string[]): Options {
  let folder = CAMERAS_FOLDER
  let json = false
  let draws = 8
  let leave: LeaveOut = 'camera'
  let only: string | null = null
  let quick = false
  const rest = [...argv]
  for (let arg = rest.shift(); arg !== undefined; arg = rest.shift()) {
    if (arg === '--json') json = true
    else if (arg === '--draws') draws = Number(rest.shift())
    else if (arg === '--leave') leave = rest.shift() === 'make' ? 'make' : 'camera'
    else if (arg === '--only') only = rest.shift() ?? null
    else if (arg === '--quick') quick = true
    else if (arg.startsWith('--')) throw new Error(`${arg}: no such option`)
    else folder = arg
  }
  if (!(Number.isInteger(draws) && draws >= 1))
    throw new Error('--draws: give a whole number from 1 up')
  return { folder, json, draws, leave, only, quick }
}
