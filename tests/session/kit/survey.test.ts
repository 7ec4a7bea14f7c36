import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { KnownHeatReference } from '../../../src/estimate/types.ts'
import { createLampModel } from '../../../src/session/kit/lamp-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { createSurvey, type StateSurvey } from '../../../src/session/kit/survey.ts'
import { salt } from '../../estimate/inputs.ts'
import { heatItem } from './items.ts'

const NOW = () => new Date('2026-05-04T10:00:00Z')
const { id: _, name: __, ...SALT } = salt() as KnownHeatReference
const heat = (id: string, change: Partial<KnownHeatReference> = {}, more = {}) =>
  heatItem(id, { ...SALT, takenAt: '2026-03-01T10:00:00.000+01:00', ...change } as never, more)

/** The survey of a kit that holds these, and of what it is made later. */
function surveyed(...items: ReturnType<typeof heat>[]) {
  const heats = signal(sortKit(items).heats)
  const survey = createSurvey({ heats } as never, NOW)
  return { heats, survey }
}

describe('a survey of the kit', () => {
  test('tells of each camera what its readings are worth, and of each heat whether it agrees', async () => {
    const { survey } = surveyed(heat('one'), heat('two'), heat('other', { cameraId: 'Other' }))
    await expect.poll(() => survey.states.value.size).toBe(2)
    for (const { reading, view } of survey.states.value.values()) {
      expect(reading!.standardUncertaintyK).toBeGreaterThan(0)
      expect(view).not.toBeNull()
    }
    expect([...survey.heats.value.keys()].sort()).toEqual(['one', 'other', 'two'])
    expect(survey.heats.value.get('one')).toMatchObject({ old: false, use: { status: 'used' } })
    survey.dispose()
  })

  test('has nothing of heats that are all switched off', async () => {
    const { survey } = surveyed(heat('off', {}, { off: true }))
    await expect.poll(() => survey.states.value.size).toBe(1)
    expect([...survey.states.value.values()][0]?.view).toBeNull()
    expect(survey.heats.value.size).toBe(0)
    survey.dispose()
  })

  test('begins anew when the kit changes, and ends when nobody looks', async () => {
    const { heats, survey } = surveyed(heat('one'))
    await expect.poll(() => survey.heats.value.size).toBe(1)
    heats.value = sortKit([heat('two')]).heats
    expect(survey.heats.value.size).toBe(0)
    await expect.poll(() => [...survey.heats.value.keys()]).toEqual(['two'])
    heats.value = sortKit([heat('three')]).heats
    survey.dispose()
    await new Promise((resolve) => setTimeout(resolve, 30))
    expect(survey.heats.value.size).toBe(0)
  })

  test('marks known heats that are too old to lean on, by the clock that it is given', async () => {
    const { survey } = surveyed(
      heat('new'),
      heat('old', { takenAt: '2019-03-01T10:00:00.000+01:00' }),
    )
    await expect.poll(() => survey.heats.value.size).toBe(2)
    const old = [...survey.heats.value].map(([id, one]) => [id, one.old])
    expect(Object.fromEntries(old)).toEqual({ new: false, old: true })
    survey.dispose()
  })

  test('supposes readings of work, also where only a lamp is known, whose own surface is none', async () => {
    const model = createLampModel(null)
    model.change({ name: 'Bench lamp' })
    const surface = { id: 'lamp frosted-bulb', lnGreenOverRed: 0, standardUncertainty: 0 }
    const { survey } = surveyed(heat('lamp', { surface }, { origin: model.subject()!.origin }))
    await expect.poll(() => survey.states.value.size).toBe(1)
    const [{ reading }] = [...survey.states.value.values()] as [StateSurvey]
    const bySurface = reading!.budget.find(({ term }) => term === 'surface')
    expect(bySurface?.standardUncertaintyK).toBeGreaterThan(2)
    survey.dispose()
  })
})
