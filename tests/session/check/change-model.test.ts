import { afterEach, expect, it } from 'vitest'
import { createChangeModel } from '../../../src/session/check/change-model.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult } from '../../log/opening.ts'

afterEach(closeTestLogs)

/** A made-up coil read at 1000 and at 500 W; what the camera does to each reading, K. */
async function expectedChange(cameraK: readonly [number, number]) {
  const log = await openTestLog()
  const at = (watts: number, kelvin: number, contributionK: number) =>
    draft({
      object: 'coil',
      supply: { volts: null, amperes: null, watts },
      result: {
        ...temperatureResult(kelvin),
        budget: [
          { term: 'camera', contributionK, sharedBy: 'camera made-up / 1' },
          { term: 'pixel noise', contributionK: 1, sharedBy: null },
        ],
      } as ReturnType<typeof temperatureResult>,
    })
  await log.add(at(1000, 1200, cameraK[0]))
  await log.add(at(500, 1020, cameraK[1]))
  const model = createChangeModel(Promise.resolve(log))
  return new Promise<number>((resolve) => {
    model.comparison.subscribe((found) => {
      const [step] = found?.steps ?? []
      if (step) resolve(step.standardUncertaintyK)
    })
  })
}

it('a change with the supply is less sure where the camera errs with opposite signs', async () => {
  const [alike, opposed] = [await expectedChange([10, 10]), await expectedChange([10, -10])]
  // The difference of 20 K adds to what the law itself leaves.
  expect(Math.sqrt(opposed ** 2 - alike ** 2)).toBeCloseTo(20, 0)
})
