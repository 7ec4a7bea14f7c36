import * as v from 'valibot'
import { uvPrimeFromXy, xyzFromXy } from '../../colour/chromaticity.ts'
import { planckianXy } from '../../colour/planckian-locus.ts'
import { encodeRgb, linearP3FromXyz } from '../../colour/rgb-spaces.ts'
import { momentOf } from '../schema/moment.ts'
import { READING_VERSION, type Reading, type Result, reading } from '../schema/reading-schema.ts'
import { symmetricResult } from '../statistics/symmetric-result.ts'
import { change } from '../store/changing.ts'
import type { Context } from '../store/context.ts'
import { DEMO_PLACE, DEMO_READINGS, type DemoReading } from './workshop.ts'

const DAY_MS = 24 * 3600 * 1000
const METHOD_VERSION = 'made up'

/** Puts the made-up workshop into the log; what is there of it already stays. Resolves to how many. */
export async function addDemo(context: Context): Promise<number> {
  const now = context.now()
  const readings = DEMO_READINGS.map((made, i) => demoReading(made, i, now, context.zone()))
  return change(context, async (writing) => {
    const ids: string[] = []
    for (const one of readings) {
      const row = await writing.row(one.id)
      if (row === undefined) await writing.insert(one, undefined)
      else if (row.removedAtMs !== undefined) await writing.update(row, one)
      else continue
      ids.push(one.id)
    }
    return { ids, value: ids.length }
  })
}

/** The same ids every time, so that asking twice makes no second workshop. */
const demoId = (i: number) => `00000000-de30-4000-8000-${String(i).padStart(12, '0')}`

function demoReading(made: DemoReading, i: number, now: Date, zone: string): Reading {
  const takenAt = new Date(Math.floor((now.getTime() - made.daysAgo * DAY_MS) / 1000) * 1000)
  return v.parse(reading, {
    version: READING_VERSION,
    id: demoId(i),
    savedAt: takenAt.toISOString(),
    takenAt: momentOf(takenAt, zone),
    method: made.method,
    // No light was seen for it: never mixed with measured readings.
    simulated: true,
    demo: true,
    result: resultOf(made),
    object: made.object,
    material: made.material,
    notes: made.notes ?? '',
    tags: [...(made.tags ?? [])],
    series: made.series ?? null,
    supply:
      made.volts === undefined
        ? null
        : { volts: made.volts, amperes: null, watts: made.watts ?? null },
    place: DEMO_PLACE,
    roomTemperatureK: null,
    cover: made.cover ?? 'none',
    ...colourOf(made.temperatureK),
    picture: null,
    parts: [],
    inputs: null,
    details: null,
    history: [],
    recomputations: [],
  })
}

function resultOf({ temperatureK, standardUncertaintyK: u, boundK, method }: DemoReading): Result {
  if (temperatureK === null) {
    return { kind: 'upper bound', temperatureK: boundK ?? 0, methodVersion: METHOD_VERSION }
  }
  // What measured readings of one made-up camera share, and what each has by itself.
  const byCamera = method === 'photo' || method === 'sweep'
  const budget = byCamera
    ? [
        { term: 'camera', contributionK: 0.9 * u, sharedBy: 'made-up camera' },
        { term: 'pixel noise', contributionK: Math.sqrt(1 - 0.81) * u, sharedBy: null },
      ]
    : [{ term: method, contributionK: u, sharedBy: null }]
  return symmetricResult(temperatureK, u, budget, METHOD_VERSION)
}

/** A black body's chromaticity, and its colour at full brightness within Display P3. */
function colourOf(temperatureK: number | null): Pick<Reading, 'chromaticity' | 'swatch'> {
  if (temperatureK === null) return { chromaticity: null, swatch: null }
  const xy = planckianXy(temperatureK)
  const { uPrime, vPrime } = uvPrimeFromXy(xy)
  const linear = linearP3FromXyz(xyzFromXy(xy))
  const most = Math.max(...linear)
  const [r, g, b] = encodeRgb([
    Math.max(linear[0], 0) / most,
    Math.max(linear[1], 0) / most,
    Math.max(linear[2], 0) / most,
  ])
  return {
    chromaticity: { ...xy, u: uPrime, v: vPrime, cctK: temperatureK, duv: 0 },
    swatch: [r, g, b],
  }
}
