import { findPlateaus } from '../../estimate/recording/plateaus.ts'
import { answerCalls } from '../worker-answers.ts'
import type { CurveOperations } from './curve-operations.ts'

answerCalls<CurveOperations>({ plateaus: async (readings) => findPlateaus(readings) })
