import { expect, test } from 'vitest'
import type { LiveLine } from '../../../src/estimate/live/live-line.ts'
import type { HeatScale } from '../../../src/estimate/map/heat-scale.ts'
import { createLiveScale } from '../../../src/session/live/live-scale.ts'
import type { MapBench } from '../../../src/sources/map/map-client.ts'
import { livePlaceSentence } from '../../../src/ui/words/live-map.ts'

const line = {
  estimate: { kind: 'temperature', temperatureK: 1200 },
  slopeK: 340,
  lnRatio: -1.4,
  input: { glow: { mean: [0.5, 0.1, 0.01] } },
} as unknown as LiveLine
const colours = { lnRatio: -1.4, lnRed: -0.7, ratios: [-1.5, -1.4, -1.3], levels: [-1, 0] } as const
const made = {
  temperatureK: 1200,
  commonK: 20,
  common95K: 40,
  at: { lnRatio: -1.4, lnRed: Math.log(0.5) },
  byRatio: { x: [-2, -1.4, -0.8], overK: [-200, 0, 200], leaningK: [-20, 0, 20] },
  byLevel: null,
} as unknown as HeatScale

/** A scale that is asked once for each answer: a scale, or the name of an error. */
async function follow(answers: readonly (HeatScale | string)[]) {
  let nowMs = 0
  let [opened, closed] = [0, 0]
  const asked: unknown[] = []
  const left = [...answers]
  const openBench = () => {
    opened++
    return {
      scale: async (question: unknown) => {
        asked.push(question)
        const answer = left.shift()!
        if (typeof answer !== 'string') return answer
        throw Object.assign(new Error('gone'), { name: answer })
      },
      close: () => closed++,
    } as unknown as MapBench
  }
  const scale = createLiveScale(openBench, () => nowMs)
  for (const _ of answers) {
    scale.follow(line, colours)
    // Sooner than four seconds later it is not asked again.
    nowMs += 3999
    scale.follow(line, colours)
    nowMs += 1
    await Promise.resolve()
    await Promise.resolve()
  }
  return {
    scale,
    leaningK: scale.over(line)!.leaningK(0.3),
    opened,
    closed,
    asked,
    left: left.length,
  }
}

test('a scale that was worked out gives places their uncertainty', async () => {
  const { leaningK, opened, left } = await follow([made, made])
  expect(Math.abs(leaningK)).toBeCloseTo(10, 6)
  expect([opened, left]).toEqual([1, 0])
})

test('one failure leaves the former scale, and the next is asked of a new worker', async () => {
  const { scale, leaningK, opened, closed } = await follow([made, 'Error'])
  expect(leaningK).toBeCloseTo(10, 6)
  expect([scale.failing, opened, closed]).toEqual([false, 1, 1])
  expect((await follow(['Error', made])).opened).toBe(2)
})

test('two failures in a row take the scale away and are said; one that comes then ends it', async () => {
  const failed = await follow([made, 'Error', 'Error'])
  expect(failed.leaningK).toBeNaN()
  expect(failed.scale.failing).toBe(true)
  expect(livePlaceSentence({ kind: 'failed' })).toContain('could not be worked out')
  const again = await follow([made, 'Error', 'Error', made])
  expect(again.leaningK).toBeCloseTo(10, 6)
  expect(again.scale.failing).toBe(false)
})

test('one that a later one has replaced is no failure', async () => {
  const { scale, leaningK, closed } = await follow([made, 'AbortError', 'AbortError'])
  expect(leaningK).toBeCloseTo(10, 6)
  expect([scale.failing, closed]).toEqual([false, 0])
})

test('until a scale is there 1/T runs straight in ln(G/R), by the slope of the line (Wien)', () => {
  const scale = createLiveScale(
    () => {
      throw new Error('nobody asked for it')
    },
    () => 0,
  )
  const over = scale.over(line)!
  const inverse = (v: number) => 1 / (1200 + over.overK(v))
  expect(over.overK(0)).toBeCloseTo(0, 9)
  expect((over.overK(1e-4) - over.overK(-1e-4)) / 2e-4).toBeCloseTo(340, 2)
  expect(inverse(0.4) - inverse(0.2)).toBeCloseTo(inverse(0.2) - inverse(0), 12)
  // Nothing is known of what a level changes, nor of how sure it is.
  expect([over.levelOverK(1), over.levelLeaningK(1), over.byLevel]).toEqual([0, 0, false])
  expect(over.leaningK(0.1)).toBeNaN()
  expect(scale.over({ ...line, slopeK: null })).toBeNull()
  expect(scale.over({ ...line, estimate: { kind: 'below range' } as never })).toBeNull()
  scale.follow({ ...line, estimate: { kind: 'below range' } as never }, colours)
})

test('one that was worked out gives kelvin over the sight, by colour and by level', async () => {
  const byLevel = { x: [-2, Math.log(0.5), 1], overK: [-30, 0, 40], leaningK: [0, 0, 0] }
  const { scale, asked } = await follow([{ ...made, byLevel } as unknown as HeatScale])
  const over = scale.over(line)!
  expect(over.overK(0.6)).toBeCloseTo(200, 6)
  expect(over.levelOverK(1 - Math.log(0.5))).toBeCloseTo(40, 6)
  expect(over.byLevel).toBe(true)
  expect((await follow([made])).scale.over(line)!.byLevel).toBe(false)
  // Asked about what the camera shows, as far from the sight as the picture shows it.
  const lnRed = Math.log(0.5)
  expect(asked).toEqual([
    {
      input: line.input,
      estimate: line.estimate,
      at: { lnRatio: -1.4, lnRed },
      ratios: [-1.5, -1.4, -1.3].map((v) => expect.closeTo(v, 9)),
      levels: [lnRed - 0.3, lnRed + 0.7].map((v) => expect.closeTo(v, 9)),
    },
  ])
})

test('put away it asks no more', async () => {
  const { scale, asked } = await follow([made])
  scale.close()
  scale.follow(line, colours)
  expect(asked).toHaveLength(1)
})
