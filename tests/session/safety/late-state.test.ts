import { expect, test } from 'vitest'
import type { Json, Log, LogChange } from '../../../src/log/schema/types.ts'
import { newJob } from '../../../src/session/safety/job.ts'
import { createSafetyModel } from '../../../src/session/safety/safety-model.ts'

const AT = new Date('2026-03-01T10:00:00Z')

/** A log of settings that answers each question when told to. */
function heldLog(stored: Record<string, Json>) {
  const settings = new Map(Object.entries(stored))
  const questions: (() => void)[] = []
  let tell: (change: LogChange) => void = () => undefined
  const held = <T>(answer: () => T) =>
    new Promise<T>((resolve) => {
      questions.push(() => resolve(answer()))
    })
  const log = {
    settings: {
      get(name: string) {
        const now = settings.get(name)
        return held(() => now)
      },
      async set(name: string, value: Json) {
        settings.set(name, value)
        tell({ kind: 'settings', elsewhere: false })
      },
    },
    subscribe(listener: (change: LogChange) => void) {
      tell = listener
      return () => undefined
    },
  } as unknown as Log
  const turn = () => new Promise((resolve) => setTimeout(resolve))
  /** Everything that has been asked so far, and what follows from it. */
  const answer = async () => {
    await turn()
    for (const question of questions.splice(0)) question()
    await turn()
  }
  return { log: Promise.resolve(log), settings, answer, questions, turn }
}

const ownCheck = { kind: 'forge', id: 'hood', text: 'Hood on' } as const

test('a tap that comes before the stored state is known changes that, and replaces nothing', async () => {
  const { log, settings, answer } = heldLog({ 'safety.ownChecks': [ownCheck] })
  const model = createSafetyModel(log, () => AT)
  model.startJob('forge')
  model.addCheck('forge', 'Sand at hand', 'sand')
  await answer()
  await answer()
  await answer()
  expect(model.job.value?.kind).toBe('forge')
  expect(model.ownChecks.value.map(({ id }) => id)).toEqual(['hood', 'sand'])
  expect(settings.get('safety.job')).toMatchObject({ kind: 'forge' })
  model.dispose()
})

test('a job that is open already is not begun anew by a tap before it is shown', async () => {
  const open = newJob('kiln', AT)
  const { log, answer } = heldLog({ 'safety.job': open as unknown as Json })
  const model = createSafetyModel(log, () => AT)
  model.startJob('forge')
  await answer()
  expect(model.job.value).toEqual(open)
  model.dispose()
})

test('ticks in quick succession stay, whatever is read of the state before them', async () => {
  const { log, settings, answer, questions, turn } = heldLog({})
  const model = createSafetyModel(log, () => AT)
  await answer()
  model.startJob('forge')
  await answer()
  model.tick('ticked', 'one')
  await turn()
  // Its own writing makes it read; while the answer is on its way the next ticks come.
  expect(questions.length).toBeGreaterThan(0)
  model.tick('ticked', 'two')
  const held = questions.splice(0)
  for (const question of held) question()
  await turn()
  model.tick('ticked', 'three')
  for (let i = 0; i < 4; i++) await answer()
  expect(model.job.value?.ticked.map(({ id }) => id)).toEqual(['one', 'two', 'three'])
  expect(settings.get('safety.job')).toMatchObject({
    ticked: [{ id: 'one' }, { id: 'two' }, { id: 'three' }],
  })
  model.dispose()
})

test('what could not be read is not written over', async () => {
  const settings = new Map<string, unknown>([['safety.ownChecks', [ownCheck]]])
  let refuses = true
  let tell: (change: LogChange) => void = () => undefined
  const log = {
    settings: {
      get: async (name: string) =>
        refuses ? Promise.reject(new Error('refused')) : settings.get(name),
      set: async (name: string, value: Json) => void settings.set(name, value),
    },
    subscribe(listener: (change: LogChange) => void) {
      tell = listener
      return () => undefined
    },
  } as unknown as Log
  const model = createSafetyModel(Promise.resolve(log), () => AT)
  model.addCheck('forge', 'Sand at hand', 'sand')
  // Refused, then taken in memory: a tap waits for the answer.
  await expect.poll(() => model.ownChecks.value.map(({ id }) => id)).toEqual(['sand'])
  expect(model.failure.value).not.toBeNull()
  expect(settings.get('safety.ownChecks')).toEqual([ownCheck])

  // Once it can be read, what was set meanwhile is set in it, and kept.
  refuses = false
  tell({ kind: 'settings', elsewhere: true })
  await expect.poll(() => (settings.get('safety.ownChecks') as Json[]).length).toBe(2)
  expect(model.ownChecks.value.map(({ id }) => id)).toEqual(['hood', 'sand'])
  expect(model.failure.value).toBeNull()
  model.dispose()
})
