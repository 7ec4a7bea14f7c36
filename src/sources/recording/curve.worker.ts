import { courseAtEnd, peakOf } from '../../estimate/recording/course.ts'
import { passage, timeAbove } from '../../estimate/recording/crossings.ts'
import type { HeatCurve } from '../../estimate/recording/heat-curve.ts'
import { fitLaws } from '../../estimate/recording/laws.ts'
import { slopeAt, slopeBetween } from '../../estimate/recording/slope.ts'
import { plateausOf } from '../../estimate/recording/slows-in-brightness.ts'
import { answerCalls } from '../worker-answers.ts'
import type { CurveOperations } from './curve-operations.ts'

let curve: HeatCurve = { seconds: [], temperatureK: [], noiseK: [], commonK: [] }

/** The last part that says whether it is steady: a quarter, at most two minutes. */
const END = { share: 0.25, seconds: 120 }

answerCalls<CurveOperations>({
  async open(opened) {
    curve = opened
    const last = curve.seconds[curve.seconds.length - 1] ?? 0
    return {
      plateaus: plateausOf(curve),
      peak: peakOf(curve),
      course: courseAtEnd(curve, Math.min(END.seconds, END.share * last)),
    }
  },
  slopeAt: async (seconds) => slopeAt(curve, seconds),
  part: async ({ from, to, roomK }) => ({
    slope: slopeBetween(curve, from, to),
    laws: fitLaws(curve, from, to, roomK),
  }),
  times: async ({ fromK, toK }) => ({
    passage: toK === null || toK === fromK ? null : passage(curve, fromK, toK),
    above: timeAbove(curve, fromK),
  }),
})
