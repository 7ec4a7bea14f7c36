import { measureSweep } from '../../light/exposure-sweep/measure-sweep.ts'
import { answerCalls } from '../worker-answers.ts'
import type { SweepOperations } from './sweep-operations.ts'

answerCalls<SweepOperations>({
  measure: async ({ frames, region, steps }) =>
    measureSweep(frames, region, steps ? { steps } : {}),
})
