import { LogError } from '../schema/errors.ts'
import { jsonProblem } from '../schema/json-value.ts'
import type { Settings } from '../schema/types.ts'
import type { Context } from './context.ts'

const LIMITS = { depth: 8, characters: 100_000 }

/** Small things that the person has chosen, by name. Not part of exports: they belong to the device. */
export function settingsOf({ db, announcer }: Context): Settings {
  return {
    get: (name) => db.read(['settings'], (tx) => tx.objectStore('settings').get(name)),
    async set(name, value) {
      const problem = jsonProblem(value, LIMITS)
      if (problem !== null) {
        throw new LogError({ code: 'storage failed', detail: `setting ${name}: ${problem}` })
      }
      await db.write(['settings'], (tx) => tx.objectStore('settings').put(value, name))
      announcer.announce({ kind: 'settings' })
    },
  }
}
