/** The bench's results as a table for people and as JSON. */
import type { ConditionResult } from './bench.ts'
import type { PredictionRow } from './best-prediction.ts'
import type { FilmScore } from './films.ts'
import type { MapScore } from './heat-maps.ts'
import type { ChangeScore } from './map-changes.ts'
import type { NoiseRow } from './noise.ts'
import type { PageRow } from './page-of-what-is-left.ts'
import type { PathResult } from './paths.ts'
import type { Sensor } from './photograph.ts'
import { pooled, type ScoreRow } from './score.ts'
import type { SpotScore } from './spot-bench.ts'

export interface Report {
  readonly cameras: number
  /** How the locus came about with which each camera was read. */
  readonly prior: string
  readonly draws: number
  readonly sensor: Sensor
  readonly conditions: readonly ConditionResult[]
  readonly disturbed: readonly ConditionResult[]
  readonly paths: readonly PathResult[]
  readonly maps: readonly MapScore[]
  readonly mapChanges: readonly ChangeScore[]
  readonly films: readonly FilmScore[]
  readonly spots: SpotScore | null
  readonly page: readonly PageRow[]
  readonly prediction: readonly PredictionRow[]
  readonly noise: readonly NoiseRow[]
  readonly noiseDraws: number
}

/** Columns of numbers, one array a quantity. */
function columns(name: string, rows: readonly ScoreRow[]) {
  const column = (key: keyof ScoreRow) => rows.map((row) => row[key])
  return {
    name,
    temperatureK: column('temperatureK'),
    rmsK: column('rmsK'),
    biasK: column('biasK'),
    coverage95: column('coverage95'),
    halfWidth95K: column('halfWidth95K'),
    boundsOnly: column('bounds'),
    refused: column('refused'),
    silentlyWrong: column('silentlyWrong'),
  }
}

export function asJson(report: Report): string {
  const { conditions, disturbed, paths, noiseDraws, ...rest } = report
  return JSON.stringify({
    ...rest,
    conditions: conditions.map(({ name, rows }) => columns(name, rows)),
    disturbed: disturbed.map(({ name, rows }) => columns(name, rows)),
    paths: paths.map(({ name, rows, againstLinearK }) => ({
      ...columns(name, rows),
      againstLinearK,
    })),
  })
}

export function asText(report: Report): string {
  const { patchPixels, electrons, readNoise } = report.sensor
  return [
    `${report.cameras} cameras, ${report.prior}; ${report.draws} draws each`,
    `patch ${patchPixels}x${patchPixels} pixels, ${electrons} electrons in the brightest channel, read noise ${readNoise} electrons`,
    ...report.conditions.flatMap(({ name, rows }) => table(name, rows, '')),
    ...report.disturbed.flatMap(({ name, rows }) => table(name, rows, '')),
    ...report.paths.flatMap(({ name, rows, againstLinearK }) =>
      table(
        `path ${name}`,
        rows,
        againstLinearK === null ? '' : `, rms against linear ${againstLinearK.toFixed(1)} K`,
      ),
    ),
    ...mapTable(report),
    ...changeTable(report),
    ...filmTable(report),
    ...spotLine(report),
    ...pageTable(report),
    ...predictionTable(report),
    ...noiseTable(report),
  ].join('\n')
}

function table(name: string, rows: readonly ScoreRow[], more: string): string[] {
  const all = pooled(rows)
  return [
    '',
    `${name}: coverage ${percent(all.coverage95)} (least ${percent(all.leastCoverage95)}), half width / rms ${all.widthOverRms.toFixed(2)}, silently wrong ${percent(all.silentShare)}${more}`,
    '     K    rms   bias  half width  coverage',
    ...rows.map((row) => {
      const notes = [
        row.bounds > 0 ? `${row.bounds} below range` : '',
        row.refused > 0 ? `${row.refused} refused` : '',
      ]
      return [
        row.temperatureK.toFixed(1).padStart(6),
        row.rmsK.toFixed(1).padStart(6),
        row.biasK.toFixed(1).padStart(6),
        row.halfWidth95K.toFixed(1).padStart(11),
        percent(row.coverage95).padStart(9),
        notes.filter((note) => note !== '').join(', '),
      ]
        .join(' ')
        .trimEnd()
    }),
  ]
}

function predictionTable({ prediction }: Report): string[] {
  if (prediction.length === 0) return []
  return [
    '',
    'best line from one known heat, fitted on the tested cameras themselves: least rms, of it the heat',
    ...prediction.map(
      ({ condition, temperatureK, leastRmsK, ofReferenceK }) =>
        `${temperatureK.toFixed(1).padStart(6)} ${leastRmsK.toFixed(1).padStart(6)} ${ofReferenceK.toFixed(1).padStart(6)}  ${condition}`,
    ),
  ]
}

function pageTable({ page }: Report): string[] {
  if (page.length === 0) return []
  return [
    '',
    'the page of what is left: its standard uncertainty, that of readings',
    ...page.map(
      ({ name, temperatureK, pageK, statedK }) =>
        `${temperatureK.toFixed(1).padStart(6)} ${pageK.toFixed(1).padStart(6)} ${statedK.toFixed(1).padStart(6)}  ${name}`,
    ),
  ]
}

function mapTable({ maps }: Report): string[] {
  if (maps.length === 0) return []
  return [
    '',
    'maps: differences of two cells; slope along the bar; maps that tell a spot, that tell it where it is,',
    'that tell a surface',
    ' maps refused coverage    rms  half width  slope bias    rms  spotted found surface',
    ...maps.map((row) =>
      [
        `${row.maps}`.padStart(5),
        `${row.refused}`.padStart(7),
        percent(row.coverage95).padStart(8),
        row.rmsK.toFixed(1).padStart(6),
        row.halfWidth95K.toFixed(1).padStart(11),
        row.gradientBiasK.toFixed(1).padStart(11),
        row.gradientRmsK.toFixed(1).padStart(6),
        `${row.spotted}`.padStart(8),
        `${row.found}`.padStart(5),
        `${row.surface}`.padStart(7),
        ` ${row.name}`,
      ].join(' '),
    ),
  ]
}

function changeTable({ mapChanges }: Report): string[] {
  if (mapChanges.length === 0) return []
  return [
    '',
    'later maps less earlier ones: the change of cells, whole and against the middle one; alignment, pixels;',
    'share of the cells that was told to have changed',
    'pairs refused coverage uneven    rms  half width alignment   told',
    ...mapChanges.map((row) =>
      [
        `${row.pairs}`.padStart(5),
        `${row.refused}`.padStart(7),
        percent(row.coverage95).padStart(8),
        percent(row.unevenCoverage95).padStart(6),
        row.rmsK.toFixed(1).padStart(6),
        row.halfWidth95K.toFixed(1).padStart(11),
        row.alignmentPixels.toFixed(2).padStart(9),
        percent(row.told).padStart(6),
        ` ${row.name}`,
      ].join(' '),
    ),
  ]
}

function filmTable({ films }: Report): string[] {
  if (films.length === 0) return []
  return [
    '',
    'films: relative errors of the slope, its stated 2 u, coverage of the slope and of the temperature',
    'films refused    rms   bias median stated coverage level',
    ...films.map((row) =>
      [
        `${row.films}`.padStart(5),
        `${row.refused}`.padStart(7),
        ...[row.rms, row.bias, row.median, row.stated].map((v) => percent(v).padStart(6)),
        percent(row.coverage95).padStart(8),
        percent(row.levelCoverage95).padStart(5),
        ` ${row.name}`,
      ].join(' '),
    ),
  ]
}

const spotLine = ({ spots }: Report): string[] =>
  spots === null
    ? []
    : [
        `spots in JPEG: told in ${spots.falselyTold} of ${spots.bars} even bars, found in ${spots.found} of ${spots.bars} with one; ` +
          `${spots.surfaceTold} of all told another surface`,
      ]

function noiseTable({ noise, noiseDraws }: Report): string[] {
  if (noise.length === 0) return []
  return [
    '',
    `pixel noise alone, cameras of known locus, ${noiseDraws} draws: spread, stated, Cramér-Rao bound`,
    '     K  spread  stated  bound R,G  bound R,G,B',
    ...noise.map((row) =>
      [
        row.temperatureK.toFixed(1).padStart(6),
        row.spreadK.toFixed(2).padStart(7),
        row.statedK.toFixed(2).padStart(7),
        row.boundTwoChannelsK.toFixed(2).padStart(10),
        row.boundThreeChannelsK.toFixed(2).padStart(12),
      ].join(' '),
    ),
  ]
}

const percent = (share: number) => `${(100 * share).toFixed(1)} %`
