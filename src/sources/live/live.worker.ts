import { ofOnePiece, temperatureDifference } from '../../estimate/difference.ts'
import { estimateGlow } from '../../estimate/estimate-glow.ts'
import { liveLine } from '../../estimate/live/live-line.ts'
import { standingLine } from '../../estimate/live/standing-line.ts'
import { checkToneCurve } from '../../light/exposure-sweep/check-tone-curve.ts'
import { measureSweep } from '../../light/exposure-sweep/measure-sweep.ts'
import { answerCalls } from '../worker-answers.ts'
import type { LiveOperations } from './live-operations.ts'
import { look } from './look.ts'

/** A stream is not stored block by block: its codes are whole, and nothing coarser. */
const STEPS = { luma: 1, chroma: 1 }

/** The line that stands, for as long as the stream does. */
const lineOf = standingLine(liveLine)

answerCalls<LiveOperations>({
  estimate: async (input) => estimateGlow(input),
  difference: async ({ first, second }) =>
    temperatureDifference(ofOnePiece(first), ofOnePiece(second)),
  look: async (input) => look(input, lineOf),
  sweep: async ({ frames, region }) => measureSweep(frames, region, { steps: STEPS }),
  check: async ({ curve, frames, region }) => checkToneCurve(curve, frames, region, STEPS),
})
