import { fixedPointTemperature } from '../../physics/fixed-points.ts'
import { CHAPMAN_RANGES, DRAPER_FIRST_GLOW_C, STIRLING_POINTS } from '../../physics/heat-colours.ts'
import { MATERIALS } from '../../physics/materials.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { WORKING_RANGES } from '../../physics/working-ranges.ts'
import type { MarkKind } from '../../session/chart/chart-model.ts'
import { CHART_POINTS, STEEL_NAMES, WORK_NAMES } from '../../ui/words/chart.ts'

/** A named stretch, drawn in a column. */
export interface RangeMark {
  readonly name: string
  readonly fromK: number
  readonly toK: number
  readonly column: 0 | 1 | 2
  readonly source: string
}

/** A named temperature, drawn as a tick with a label. */
export interface PointMark {
  readonly name: string
  readonly temperatureK: number
  readonly source: string
}

export interface Marks {
  readonly ranges: readonly RangeMark[]
  readonly points: readonly PointMark[]
  readonly columnNames: readonly string[]
}

const CHAPMAN_TOP_C = 1500

const NAMES: Marks = {
  columnNames: ['Chapman', 'Stirling'],
  ranges: CHAPMAN_RANGES.map(({ fromC, name }, i) => ({
    name,
    fromK: kelvinFromCelsius(fromC),
    toK: kelvinFromCelsius(CHAPMAN_RANGES[i + 1]?.fromC ?? CHAPMAN_TOP_C),
    column: 0 as const,
    source: 'Chapman, Workshop Technology 1 (1972)',
  })),
  points: [
    {
      name: 'first glow (Draper)',
      temperatureK: kelvinFromCelsius(DRAPER_FIRST_GLOW_C),
      source: 'Draper (1847), from memory',
    },
    ...STIRLING_POINTS.map(({ atC, name }) => ({
      name,
      temperatureK: kelvinFromCelsius(atC),
      source: 'Stirling, A Book of Steam (1905)',
    })),
  ],
}

const WORK_COLUMNS = { forging: 0, hardening: 1, burning: 2 } as const

const WORK: Marks = {
  columnNames: Object.values(WORK_NAMES),
  ranges: WORKING_RANGES.map(({ work, steel, fromK, toK, source }) => ({
    name: STEEL_NAMES[steel],
    fromK,
    toK,
    column: WORK_COLUMNS[work],
    source,
  })),
  points: [],
}

function heats(): Marks {
  const points = CHART_POINTS.flatMap(({ name, choice }) => {
    const found = fixedPointTemperature(choice)
    return 'temperatureK' in found
      ? [{ name, temperatureK: found.temperatureK, source: found.source }]
      : []
  })
  return {
    columnNames: [],
    ranges: [
      {
        name: 'lamp filaments',
        fromK: 2400,
        toK: 3000,
        column: 0,
        source: 'common practice: general-service lamps near 2700 K, halogen near 3000 K',
      },
    ],
    points: points.sort((a, b) => a.temperatureK - b.temperatureK),
  }
}

/** Melting and service limits of the materials that the user works with (all, when none is known). */
function limits(materialIds: readonly string[]): Marks {
  const chosen = MATERIALS.filter(({ id }) => materialIds.length === 0 || materialIds.includes(id))
  const seen = new Set<string>()
  const points = chosen.flatMap(({ name, melting, service }) => {
    const short = name.split(',')[0] ?? name
    const found: PointMark[] = []
    if (service) {
      found.push({
        name: `${short}: continuous use`,
        temperatureK: service.temperatureK,
        source: service.source,
      })
    }
    if (melting) {
      found.push({
        name: `${short}: melts`,
        temperatureK: melting.solidusK,
        source: melting.source,
      })
    }
    return found.filter((mark) => {
      const key = `${mark.name} ${mark.temperatureK}`
      return !seen.has(key) && seen.add(key)
    })
  })
  return {
    columnNames: [],
    ranges: [],
    points: points.sort((a, b) => a.temperatureK - b.temperatureK),
  }
}

export function marksOf(kind: MarkKind, materialIds: readonly string[] = []): Marks {
  switch (kind) {
    case 'names':
      return NAMES
    case 'work':
      return WORK
    case 'heats':
      return heats()
    case 'limits':
      return limits(materialIds)
  }
}
