/**
 * The page of what is left of a camera's uncertainty beside what readings state: the same cameras, the
 * same photo to begin with, known heats added by the page or photographed.
 */
import { NORMAL_95 } from '../../src/estimate/budget.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import {
  type MeasuringStep,
  type RemainingUncertainty,
  remainingUncertainty,
} from '../../src/estimate/remaining-uncertainty.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { seedOf } from './bench.ts'
import type { TestSet } from './cameras.ts'
import { COPPER, type Condition, drawInputs, SALT } from './conditions.ts'
import type { Sensor } from './photograph.ts'
import { seeded } from './random.ts'

export interface PageRow {
  readonly name: string
  readonly temperatureK: number
  readonly cameras: number
  /** Root mean square of the standard uncertainties: of the page's, of readings', K. */
  readonly pageK: number
  readonly statedK: number
}

/** What the page shows: 700, 900, 1100, 1300 °C. */
const SHOWN_K = [973.15, 1173.15, 1373.15, 1573.15]
const STEPS: readonly (MeasuringStep | null)[] = [null, 'salt', 'copper']
const HEATS = { salt: SALT, copper: COPPER } as const

/** @param every one camera in so many */
export function pageOfWhatIsLeft(set: TestSet, sensor: Sensor, every: number): PageRow[] {
  const pairs = STEPS.map(() => SHOWN_K.map(() => [] as { page: number; stated: number }[]))
  for (const [index, { name, sensitivity, locus }] of set.cameras.entries()) {
    if (index % every !== 0) continue
    const camera = { name, simulated: simulateCamera(sensitivity, set.training, 'daylight') }
    const drawn = (condition: Condition) =>
      drawInputs(camera, condition, SHOWN_K, sensor, seeded(seedOf(index, condition.name, 0)))
    const withCard = drawn(conditionWith(null))
    const page = shown(withCard[1]!, locus)
    for (const [s, step] of STEPS.entries())
      for (const [t, input] of (step === null ? withCard : drawn(conditionWith(step))).entries()) {
        const estimate = estimateGlow(input, locus)
        const column = page[t]!
        const pageK =
          step === null
            ? column.nowK
            : column.after.find((one) => one.step === step)?.standardUncertaintyK
        if (estimate.kind !== 'temperature' || pageK == null) continue
        const [low, high] = estimate.interval95K
        pairs[s]![t]!.push({ page: pageK, stated: (high - low) / (2 * NORMAL_95) })
      }
  }
  return STEPS.flatMap((step, s) =>
    SHOWN_K.map((temperatureK, t) => {
      const found = pairs[s]![t]!
      const rms = (of: 'page' | 'stated') =>
        Math.sqrt(found.reduce((sum, pair) => sum + pair[of] ** 2, 0) / found.length)
      return {
        name: step === null ? 'card' : `card, then ${step}`,
        temperatureK,
        cameras: found.length,
        pageK: rms('page'),
        statedK: rms('stated'),
      }
    }),
  )
}

const conditionWith = (step: MeasuringStep | null): Condition => ({
  name: `page ${step ?? 'card'}`,
  balance: 'daylight',
  card: 'preset',
  heats: step === 'salt' || step === 'copper' ? [HEATS[step]] : [],
})

function shown(
  like: GlowInput,
  locus: Parameters<typeof remainingUncertainty>[2],
): RemainingUncertainty[] {
  const steps = remainingUncertainty(like, SHOWN_K, locus)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}
