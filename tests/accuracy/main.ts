/**
 * How well temperatures are read, and whether the stated intervals are true, on simulated photos by
 * cameras that the estimate has not seen.
 *
 *   npm run accuracy -- [FOLDER] [--json] [--draws N] [--leave camera|make] [--condition NAME]
 */
import { runBench, TEMPERATURES_K } from './bench.ts'
import { DEFAULT_FOLDER, type LeaveOut, testSet } from './cameras.ts'
import { CONDITIONS } from './conditions.ts'
import { noiseCheck } from './noise.ts'
import { SENSOR } from './photograph.ts'
import { pooled } from './score.ts'

export function main(argv: readonly string[]): number {
  const options = parse(argv)
  const set = testSet(options.folder, options.leave)
  const conditions = CONDITIONS.filter(
    ({ name }) => options.condition === null || name === options.condition,
  )
  const results = runBench(set, {
    draws: options.draws,
    sensor: SENSOR,
    temperaturesK: TEMPERATURES_K,
    conditions,
  })
  const noise = noiseCheck(set, SENSOR, NOISE_CAMERAS, NOISE_DRAWS)
  if (options.json) {
    const column = <K extends string>(rows: readonly Record<K, number>[], key: K) =>
      rows.map((row) => row[key])
    console.log(
      JSON.stringify({
        cameras: set.cameras.length,
        prior: set.priorNote,
        draws: options.draws,
        sensor: SENSOR,
        conditions: results.map(({ name, rows }) => ({
          name,
          temperatureK: column(rows, 'temperatureK'),
          rmsK: column(rows, 'rmsK'),
          biasK: column(rows, 'biasK'),
          coverage95: column(rows, 'coverage95'),
          halfWidth95K: column(rows, 'halfWidth95K'),
          boundsOnly: column(rows, 'bounds'),
          refused: column(rows, 'refused'),
        })),
        noise,
      }),
    )
    return 0
  }
  const { patchPixels, electrons, readNoise } = SENSOR
  console.log(`${set.cameras.length} cameras, ${set.priorNote}; ${options.draws} draws each`)
  console.log(
    `patch ${patchPixels}x${patchPixels} pixels, ${electrons} electrons in the brightest channel, read noise ${readNoise} electrons`,
  )
  for (const { name, rows } of results) {
    const all = pooled(rows)
    console.log(
      `\n${name}: coverage ${percent(all.coverage95)} (least ${percent(all.leastCoverage95)}), half width / rms ${all.widthOverRms.toFixed(2)}`,
    )
    console.log('     K    rms   bias  half width  coverage')
    for (const row of rows) {
      const notes = [
        row.bounds > 0 ? `${row.bounds} below range` : '',
        row.refused > 0 ? `${row.refused} refused` : '',
      ].filter((note) => note !== '')
      console.log(
        `${row.temperatureK.toFixed(1).padStart(6)} ${row.rmsK.toFixed(1).padStart(6)} ${row.biasK.toFixed(1).padStart(6)} ${row.halfWidth95K.toFixed(1).padStart(11)} ${percent(row.coverage95).padStart(9)}  ${notes.join(', ')}`,
      )
    }
  }
  console.log(
    `\npixel noise alone, ${NOISE_CAMERAS} cameras of known locus, ${NOISE_DRAWS} draws: spread, stated, Cramér-Rao bound`,
  )
  console.log('     K  spread  stated  bound R,G  bound R,G,B')
  for (const row of noise)
    console.log(
      `${row.temperatureK.toFixed(1).padStart(6)} ${row.spreadK.toFixed(2).padStart(7)} ${row.statedK.toFixed(2).padStart(7)} ${row.boundTwoChannelsK.toFixed(2).padStart(10)} ${row.boundThreeChannelsK.toFixed(2).padStart(12)}`,
    )
  return 0
}

const NOISE_CAMERAS = 8
const NOISE_DRAWS = 200

const percent = (share: number) => `${(100 * share).toFixed(1)} %`

interface Options {
  readonly folder: string
  readonly json: boolean
  readonly draws: number
  readonly leave: LeaveOut
  readonly condition: string | null
}

function parse(argv: readonly string[]): Options {
  let folder = DEFAULT_FOLDER
  let json = false
  let draws = 8
  let leave: LeaveOut = 'camera'
  let condition: string | null = null
  const rest = [...argv]
  for (let arg = rest.shift(); arg !== undefined; arg = rest.shift()) {
    if (arg === '--json') json = true
    else if (arg === '--draws') draws = Number(rest.shift())
    else if (arg === '--leave') leave = rest.shift() === 'make' ? 'make' : 'camera'
    else if (arg === '--condition') condition = rest.shift() ?? null
    else folder = arg
  }
  if (!(draws >= 1)) throw new Error('--draws: give a whole number from 1 up')
  return { folder, json, draws, leave, condition }
}
