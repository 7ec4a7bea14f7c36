import { estimateGlow } from '../../estimate/estimate-glow.ts'
import { measureSweep } from '../../light/exposure-sweep/measure-sweep.ts'
import { answerCalls } from '../worker-answers.ts'
import type { LiveOperations } from './live-operations.ts'
import { look } from './look.ts'

answerCalls<LiveOperations>({
  estimate: async (input) => estimateGlow(input),
  look: async (input) => look(input),
  sweep: async ({ frames, region }) =>
    // A stream is not stored block by block: its codes are whole, and nothing coarser.
    measureSweep(frames, region, { steps: { luma: 1, chroma: 1 } }),
})
