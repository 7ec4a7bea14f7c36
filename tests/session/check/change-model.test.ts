import { afterEach, describe, expect, it } from 'vitest'
import { ofOnePiece, temperatureDifference } from '../../../src/estimate/difference.ts'
import type { GlowInput } from '../../../src/estimate/types.ts'
import { currentResult } from '../../../src/log/schema/reading-schema.ts'
import type { Json, Log, NewReading } from '../../../src/log/schema/types.ts'
import { createChangeModel } from '../../../src/session/check/change-model.ts'
import { reading, seen } from '../../estimate/inputs.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult } from '../../log/opening.ts'

afterEach(closeTestLogs)

const watts = (value: number | null) => ({ volts: null, amperes: null, watts: value })
/** A made-up coil at so many watts. */
const coil = (power: number, kelvin: number, change: Partial<NewReading> = {}) =>
  draft({ object: 'coil', supply: watts(power), result: temperatureResult(kelvin), ...change })

async function opened(log: Log, readingId?: string) {
  const model = createChangeModel(Promise.resolve(log), readingId)
  await expect.poll(() => model.objects.value).not.toBeNull()
  return model
}
const kelvins = ({ readings }: ReturnType<typeof createChangeModel>) =>
  readings.value.map((one) => {
    const result = currentResult(one)
    return result.kind === 'temperature' && result.temperatureK
  })

/** The change from 1000 to 500 W; what the camera does to each reading, K. */
async function expectedChange(cameraK: readonly [number, number]) {
  const log = await openTestLog()
  const at = (power: number, kelvin: number, contributionK: number) =>
    coil(power, kelvin, {
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
  const model = await opened(log)
  await expect.poll(() => model.comparison.value).not.toBeNull()
  return model.comparison.value!.steps[0]!.standardUncertaintyK
}

describe('a change with the supply', () => {
  it('is less sure where the camera errs with opposite signs', async () => {
    const [alike, opposed] = [await expectedChange([10, 10]), await expectedChange([10, -10])]
    // The difference of 20 K adds to what the law itself leaves.
    expect(Math.sqrt(opposed ** 2 - alike ** 2)).toBeCloseTo(20, 0)
  })

  it('is of readings with that supply and a temperature, oldest first, none of them made of another', async () => {
    const log = await openTestLog()
    await log.add(coil(1000, 1200))
    await log.add(coil(0, 700))
    await log.add(draft({ object: 'coil', result: temperatureResult(1100) }))
    await log.add(
      coil(900, 1, { result: { kind: 'none', reason: 'too dark', methodVersion: '1' } }),
    )
    await log.add(coil(800, 1150, { method: 'supply' }))
    await log.add(coil(800, 1160, { method: 'combined' }))
    await log.add(coil(500, 1020))
    await log.add(coil(5, 900, { supply: { volts: 24, amperes: null, watts: null } }))
    const model = await opened(log)
    await expect.poll(() => kelvins(model)).toEqual([1200, 1020])
    expect(model.comparison.value?.steps.map((step) => step.measuredChangeK)).toEqual([-180])
    // One reading with volts: nothing that it could be compared with.
    model.quantity.value = 'volts'
    expect(kelvins(model)).toEqual([900])
    expect(model.comparison.value).toBeNull()
  })

  it('of a heater follows radiation and a fifth of convection, of a lamp the power of its volts', async () => {
    const log = await openTestLog()
    await log.add(coil(1000, 1200, { supply: { volts: 200, amperes: null, watts: 1000 } }))
    await log.add(coil(500, 1020, { supply: { volts: 160, amperes: null, watts: 500 } }))
    const model = await opened(log)
    const expectedK = () => 1200 + (model.comparison.value?.steps[0]?.predictedChangeK ?? 0)
    await expect.poll(expectedK).toBeLessThan(1100)
    // Half the power: 0.8 of it by Stefan and Boltzmann, 0.2 by the excess to 1.3, in a room of 293 K.
    const loss = (t: number) =>
      (0.8 * (t ** 4 - 293 ** 4)) / (1200 ** 4 - 293 ** 4) + 0.2 * ((t - 293) / 907) ** 1.3
    expect(loss(expectedK())).toBeCloseTo(0.5, 2)
    model.quantity.value = 'volts'
    expect(loss(expectedK())).toBeCloseTo(0.64, 2)
    // T ~ volts^0.42 (IES Lighting Handbook, tungsten lamps).
    model.law.value = 'lamp'
    expect(expectedK()).toBeCloseTo(1200 * 0.8 ** 0.42, 0)
  })

  it('is as sure as the two photos of one camera are together', async () => {
    const log = await openTestLog()
    const inputs = (kelvin: number) => reading(seen(kelvin))
    const photo = (power: number, kelvin: number) =>
      coil(power, kelvin, { inputs: inputs(kelvin) as unknown as Json })
    await log.add(photo(1000, 1200))
    await log.add(photo(500, 1020))
    const model = await opened(log)
    const one = (input: GlowInput) => ofOnePiece(input)
    const joint = temperatureDifference(one(inputs(1200)), one(inputs(1020)))!
    await expect
      .poll(() => model.comparison.value?.steps[0]?.measuredUncertaintyK)
      .toBeCloseTo(joint.standardUncertaintyK, 9)
  })
})

describe('the object whose change is looked at', () => {
  it('is the one that is read most, or that of the asked reading, and another by choice', async () => {
    const log = await openTestLog()
    await log.add(coil(1000, 1200))
    await log.add(coil(500, 1020))
    const asked = await log.add(coil(300, 950, { object: 'kiln' }))
    const model = await opened(log)
    expect(model.objects.value?.map(({ text }) => text)).toEqual(['coil', 'kiln'])
    expect(model.object.value).toBe('coil')
    model.choose('kiln')
    await expect.poll(() => kelvins(model)).toEqual([950])
    const ofAsked = await opened(log, asked.id)
    expect(ofAsked.object.value).toBe('kiln')
    await expect.poll(() => kelvins(ofAsked)).toEqual([950])
  })

  it('is the last one chosen, though what came before is read later', async () => {
    const log = await openTestLog()
    await log.add(coil(1000, 1200))
    await log.add(coil(300, 950, { object: 'kiln' }))
    let release = () => {}
    const held = new Promise<void>((resolve) => {
      release = resolve
    })
    const find: Log['find'] = async (filter) => {
      const view = await log.find(filter)
      if (filter?.object === 'kiln') await held
      return view
    }
    const model = await opened({ ...log, find })
    await expect.poll(() => kelvins(model)).toEqual([1200])
    model.choose('kiln')
    model.choose('coil')
    release()
    await new Promise((resolve) => setTimeout(resolve, 20))
    expect(kelvins(model)).toEqual([1200])
  })

  it('is none where no reading names one, and says what the log refused', async () => {
    const log = await openTestLog()
    await log.add(coil(1000, 1200, { object: '' }))
    const model = await opened(log)
    expect(model.object.value).toBe('')
    expect(kelvins(model)).toEqual([])
    const refused = new Error('refused')
    const failing = createChangeModel(Promise.reject(refused))
    await expect.poll(() => failing.failure.value).toBe(refused)
    expect(failing.objects.value).toBeNull()
  })
})
