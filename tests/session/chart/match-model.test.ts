import { signal } from '@preact/signals'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { CHART_SPREAD_K, SCREEN_SPREAD_K } from '../../../src/estimate/eye-match.ts'
import { createChartModel } from '../../../src/session/chart/chart-model.ts'
import type { ChartLook } from '../../../src/session/chart/look-model.ts'
import { createMatchModel } from '../../../src/session/chart/match-model.ts'
import { WORKSHOP } from '../../../src/session/chart/scale.ts'
import type { KitModel } from '../../../src/session/kit/kit-model.ts'
import type { LiveBeside } from '../../../src/session/live/live-beside.ts'

/** A kit that is being read: the look of a camera is not worked out. */
const kit = { heats: signal([]), state: signal('reading') } as unknown as KitModel
const ended: (() => void)[] = []
afterEach(() => {
  for (const end of ended.splice(0)) end()
})

function matching() {
  const chart = createChartModel(kit)
  const match = createMatchModel(chart)
  ended.push(
    () => match.dispose(),
    () => chart.dispose(),
  )
  return { chart, match }
}
const photo = (simulated = false) => ({ kind: 'photo', url: 'blob:made', simulated }) as const

test('the piece is bracketed from 200 K above to 200 K below, and read in the middle', () => {
  const { chart, match } = matching()
  chart.cursorK.value = 1150
  match.begin({ kind: 'piece' })
  expect([match.step.value, chart.cursorK.value]).toEqual(['from hotter', 1350])
  expect([match.result.value, match.record()]).toEqual([null, null])
  chart.cursorK.value = 1180
  match.agree()
  expect([match.step.value, chart.cursorK.value]).toEqual(['from colder', 980])
  chart.cursorK.value = 1120
  match.agree()
  expect(match.step.value).toBe('done')
  // Rectangular between both settings (JCGM 100, 4.3.7), the chart and the screen.
  const bracket = 30 / Math.sqrt(3)
  expect(match.result.value).toMatchObject({
    temperatureK: 1150,
    standardUncertaintyK: Math.hypot(bracket, CHART_SPREAD_K, SCREEN_SPREAD_K),
  })
})

test('once agreed upon it stays, wherever the pointer goes; again begins anew', () => {
  const { chart, match } = matching()
  match.begin({ kind: 'piece' })
  match.agree()
  match.agree()
  const read = match.result.value
  chart.cursorK.value = 1500
  expect(match.result.value).toEqual(read)
  match.again()
  expect([match.step.value, match.result.value]).toEqual(['from hotter', null])
})

test('a bracket begins within the chart', () => {
  const { chart, match } = matching()
  chart.cursorK.value = WORKSHOP.highK - 50
  match.begin({ kind: 'piece' })
  expect(chart.cursorK.value).toBe(WORKSHOP.highK)
  chart.cursorK.value = WORKSHOP.lowK + 50
  match.agree()
  expect(chart.cursorK.value).toBe(WORKSHOP.lowK)
})

test('the piece is matched as an eye sees it, a picture as a camera stores it', () => {
  vi.spyOn(URL, 'revokeObjectURL').mockImplementation(() => {})
  const { chart, match } = matching()
  match.begin(photo())
  expect(chart.viewKind.value).toBe('camera')
  match.begin({ kind: 'piece' })
  expect(chart.viewKind.value).toBe('dark-shop')
  match.close()
  expect(chart.viewKind.value).toBe('dark-shop')
  expect(match.beside.value).toBeNull()
  // The view that stood before comes back.
  chart.viewKind.value = 'hue'
  match.begin(photo())
  match.close()
  expect(chart.viewKind.value).toBe('hue')
})

test('a picture is let go when it is put away', () => {
  const freed = vi.spyOn(URL, 'revokeObjectURL').mockImplementation(() => {})
  const { match } = matching()
  match.begin(photo())
  expect(freed).not.toHaveBeenCalled()
  match.close()
  expect(freed).toHaveBeenCalledExactlyOnceWith('blob:made')
})

test('the log keeps what was matched and what errs in it; what the app made up is practice', () => {
  vi.spyOn(URL, 'revokeObjectURL').mockImplementation(() => {})
  const { chart, match } = matching()
  chart.materialId.value = 'steel-oxidised'
  match.object.value = ' Chisel '
  match.begin({ kind: 'piece' })
  match.agree()
  match.agree()
  expect(match.simulated.value).toBe(false)
  const piece = match.record()!
  expect(piece).toMatchObject({
    method: 'by eye',
    simulated: false,
    object: 'Chisel',
    notes: '',
    material: 'steel-oxidised',
    inputs: { beside: 'piece', view: 'dark-shop', room: 'dark', camera: null, redLevel: null },
  })
  const terms = (record: typeof piece) =>
    record.result?.kind === 'temperature' ? record.result.budget.map(({ term }) => term) : []
  expect(terms(piece)).toEqual(['bracket', 'naming charts', 'screen'])
  match.begin(photo(true))
  match.agree()
  match.agree()
  const practice = match.record()!
  expect(practice).toMatchObject({ simulated: true, notes: 'Simulated: practice.' })
  // A picture on the same screen is shown as wrongly as the chart beside it.
  expect(terms(practice)).not.toContain('screen')
})

describe('a live picture beside the chart', () => {
  const live = (kind: 'camera' | 'practice') => ({ camera: { kind } }) as unknown as LiveBeside
  const LOOK = {
    table: { referenceIds: ['salt'] },
    cameraId: 'Made-up phone',
    balanceState: { kind: 'daylight', colourTemperatureK: null },
    heats: ['Salt'],
  } as unknown as ChartLook

  /** A match while the look of a camera is known, 19 times in 20 within 200 K of its middle. */
  function looking() {
    const chart = createChartModel(kit)
    const look = signal<ChartLook | null>(LOOK)
    const rangeAt = (kelvin: number) => ({ low95K: kelvin - 200, high95K: kelvin + 200 })
    const match = createMatchModel({ ...chart, rangeAt, looks: { ...chart.looks, look } })
    ended.push(match.dispose, chart.dispose)
    return { chart, look, match }
  }

  test('is matched by what is known of its camera then, with which readings of its photos err', () => {
    const { chart, look, match } = looking()
    match.begin({ kind: 'live', live: live('camera') })
    chart.looks.level.value = 0.3
    match.agree()
    match.agree()
    // The camera is let go before the reading is kept.
    look.value = null
    const record = match.record()!
    expect(record).toMatchObject({
      method: 'by eye',
      simulated: false,
      inputs: {
        beside: 'live',
        view: 'camera',
        camera: 'Made-up phone',
        redLevel: 0.3,
        knownHeats: ['salt'],
      },
    })
    const { result } = record
    if (result?.kind !== 'temperature') throw new Error('no temperature')
    const causes = result.budget.map(({ term, sharedBy }) => [term, sharedBy])
    expect(causes).toEqual([
      ['bracket', null],
      ['naming charts', 'eye'],
      ['camera', 'camera Made-up phone display-p3 daylight'],
    ])
    const squares = result.budget.reduce((sum, { contributionK }) => sum + contributionK ** 2, 0)
    expect(Math.sqrt(squares)).toBeCloseTo(result.standardUncertaintyK, 9)
    // 95 % within 200 K on each side: a standard uncertainty of about 100 K.
    expect(Math.abs(result.budget.at(-1)!.contributionK - 100)).toBeLessThan(3)
  })

  test('is practice where its glow is made up, and the piece itself is seen by no camera', () => {
    const { match } = looking()
    match.begin({ kind: 'live', live: live('practice') })
    expect(match.simulated.value).toBe(true)
    match.begin({ kind: 'piece' })
    expect(match.simulated.value).toBe(false)
    match.agree()
    match.agree()
    const piece = match.record()!
    expect(piece.inputs).toMatchObject({ camera: null, redLevel: null, knownHeats: [] })
    expect(piece.result?.kind === 'temperature' && piece.result.budget.length).toBe(3)
  })

  test('that comes back goes on where the bracket stood; put away, its camera is no view any more', () => {
    const { chart, match } = looking()
    const first = chart.looks.level.value
    match.begin({ kind: 'live', live: live('camera') })
    match.agree()
    const came = live('camera')
    match.resume(came)
    expect([match.step.value, match.beside.value]).toEqual([
      'from colder',
      { kind: 'live', live: came },
    ])
    chart.looks.level.value = 0.3
    chart.looks.live.value = { cameraId: 'x', balanceState: LOOK.balanceState }
    match.close()
    expect([chart.looks.level.value, chart.looks.live.value]).toEqual([first, null])
    expect([match.beside.value, match.record()]).toEqual([null, null])
  })
})
