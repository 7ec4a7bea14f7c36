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
  const left = [...answers]
  const openBench = () => {
    opened++
    return {
      scale: async () => {
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
  return { scale, leaningK: scale.over(line)!.leaningK(0.3), opened, closed, left: left.length }
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
