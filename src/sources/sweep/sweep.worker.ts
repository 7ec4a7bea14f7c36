import { checkToneCurve } from '../../light/exposure-sweep/check-tone-curve.ts'
import { measureSweep } from '../../light/exposure-sweep/measure-sweep.ts'
import { measurePair } from '../../light/raw-pair/measure-pair.ts'
import { answerCalls } from '../worker-answers.ts'
import type { SweepOperations } from './sweep-operations.ts'

answerCalls<SweepOperations>({
  measure: async ({ frames, region, steps, base, channelOdds }) =>
    measureSweep(frames, region, { base, channelOdds, ...(steps && { steps }) }),
  pair: async (pair) => measurePair(pair),
  check: async ({ curve, frames, region, steps }) =>
    checkToneCurve(curve, frames, region, steps ?? undefined),
})
