import { expect, test } from 'vitest'
import type { EstimateSample } from '../../../src/estimate/recording/estimate-sampler.ts'
import type { PlateauMeaning } from '../../../src/estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../../src/estimate/recording/plateaus.ts'
import { emptyColumns, FLAGS } from '../../../src/log/recordings/columns.ts'
import type { RecordingHead } from '../../../src/log/recordings/recording-schema.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import {
  plateauKitItem,
  plateauReference,
} from '../../../src/session/recording/plateau-reference.ts'
import { reading, seen } from '../../estimate/inputs.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

/** Silver's freezing point, ITS-90: 961.78 °C. */
const SILVER_K = 1234.93
const MEANING: PlateauMeaning = {
  id: 'silver',
  name: 'Silver',
  condition: null,
  temperatureK: SILVER_K,
  pointUncertaintyK: 0,
  source: 'ITS-90',
  inSteel: false,
  away: 0,
}
const PLATEAU: Plateau = {
  kind: 'plateau',
  during: 'cooling',
  fromSeconds: 10,
  toSeconds: 20,
  levelK: SILVER_K,
  levelUncertaintyK: 1,
  slopeBefore: -2,
  slopeWithin: 0,
  slopeWithinUncertainty: 0.1,
  slopeAfter: -2,
  undercoolingK: 0,
  significance: 9,
}
const LEVEL = {
  exposureSeconds: 0.01,
  iso: 100,
  fNumber: 1,
  fieldRadius: 0.2,
  stream: true,
} as const
/** Cools by 2 K/s until it freezes at 10 s. */
const kelvinAt = (seconds: number) => SILVER_K + 2 * Math.max(10 - seconds, 0)

function recorded(stepAt: number | null) {
  const columns = emptyColumns(200)
  for (let i = 0; i < 200; i++) {
    const seconds = i / 10
    columns.ms[i] = 1000 * seconds
    columns.lnRatio[i] = -1.5
    // Wien at 632 nm, c2 = 14 388 um K (ITS-90).
    columns.lnRed[i] = -14388 / 0.632 / kelvinAt(seconds)
    if (i === stepAt) columns.flags[i]! |= FLAGS['exposure changed']
  }
  return columns
}

const look = (level: typeof LEVEL | undefined): EstimateSample => ({
  seconds: 4,
  lnRatio: -1.5,
  temperatureK: kelvinAt(4),
  input: reading(seen(kelvinAt(4)), level ? { level } : {}),
})

const itemOf = (sample: EstimateSample, stepAt: number | null = null) => {
  const found = plateauReference(PLATEAU, MEANING, recorded(stepAt), [sample])
  if (typeof found === 'string') throw new Error(found)
  const head = { startedAt: { iso: '2000-01-01T00:00:00Z' }, simulated: true }
  const { data } = plateauKitItem(found, MEANING, head as RecordingHead)
  return (data as unknown as { reference: ReturnType<typeof reading> }).reference
}

test('the plateau of a stream with a locked exposure is a known heat by its brightness too', () => {
  const sample = look(LEVEL)
  const reference = itemOf(sample)
  expect(reference.level).toEqual(LEVEL)
  // The look was 12 K above the point: so much dimmer is the plateau.
  const dimmer = (14388 / 0.632) * (1 / kelvinAt(4) - 1 / SILVER_K)
  const { mean, covariance } = reference.glow
  expect(Math.log(mean[0] / sample.input.glow.mean[0])).toBeCloseTo(dimmer, 2)
  expect(Math.sqrt(covariance[0][0]) / mean[0]).toBeCloseTo(0.002, 6)
})

test('it speaks by colour alone where exposure is not stated, or changed between look and plateau', () => {
  expect(itemOf(look(undefined)).level).toBeUndefined()
  expect(itemOf(look(LEVEL), 70).level).toBeUndefined()
  // One before both does no harm, one from the first to the end of the last does.
  const within = { ...look(LEVEL), seconds: 19 }
  for (const [sample, first] of [
    [look(LEVEL), 40],
    [within, 100],
  ] as const) {
    expect(itemOf(sample, first - 1).level).toEqual(LEVEL)
    for (const at of [first, 199]) expect(itemOf(sample, at).level).toBeUndefined()
  }
})

test('it speaks by colour alone where no reading lies beside the look', () => {
  expect(itemOf({ ...look(LEVEL), seconds: -2 }).level).toBeUndefined()
  expect(itemOf({ ...look(LEVEL), seconds: -0.9 }).level).toEqual(LEVEL)
})

test('the kit takes it as a known heat, with all that the look says of the camera', async () => {
  const sample = look(LEVEL)
  const found = plateauReference(PLATEAU, MEANING, recorded(null), [sample])
  if (typeof found === 'string') throw new Error(found)
  const startedAt = { iso: '2026-05-04T10:00:00.000Z', zone: 'UTC' }
  const log = await openTestLog()
  const head = { startedAt, simulated: true } as RecordingHead
  await log.kit.add(plateauKitItem(found, { ...MEANING, condition: 'open-air' }, head))
  const { heats, unreadable } = sortKit((await log.kit.list()).items)
  expect(unreadable).toEqual([])
  const { cameraId, channels, balance, balanceState, linearity, surface } = sample.input
  expect(heats[0]).toMatchObject({
    reference: { cameraId, channels, balance, balanceState, linearity, surface, group: null },
    origin: {
      kind: 'known heat',
      id: 'silver',
      atmosphere: 'open-air',
      steelClass: null,
      valueK: null,
      limitsOfErrorK: null,
    },
    off: false,
    item: { cameraId, date: startedAt, temperatureK: SILVER_K, simulated: true },
  })
  closeTestLogs()
})
