import type { KitItem, Log } from '../log/schema/types.ts'
import { sayFailure } from './say-failure.ts'
import { say } from './spoken.tsx'

/** Changes to kit items; what went wrong is said, and everything kept before stays. */

export async function removeItems(
  log: Promise<Log>,
  ids: readonly string[],
  done: string,
): Promise<void> {
  try {
    const { kit } = await log
    const undo = await kit.remove(ids)
    say(done, { label: 'Undo', run: () => void kit.restore(undo).catch(sayFailure) })
  } catch (error) {
    sayFailure(error)
  }
}

/** Changes what a person has written of an item: its name, its notes. */
export async function rewordItem(
  log: Promise<Log>,
  id: string,
  words: { readonly name: string; readonly notes?: string },
): Promise<void> {
  try {
    await (await log).kit.change(id, words)
    say(words.notes === undefined ? 'Renamed.' : 'Changed.')
  } catch (error) {
    sayFailure(error)
  }
}

/** Switched off, a known heat is kept but not used. */
export async function switchHeat(log: Promise<Log>, item: KitItem, off: boolean): Promise<void> {
  try {
    const { data } = item
    if (typeof data !== 'object' || data === null || Array.isArray(data)) return
    await (await log).kit.change(item.id, { data: { ...data, off } })
    say(off ? `${item.name} is switched off.` : `${item.name} counts again.`)
  } catch (error) {
    sayFailure(error)
  }
}
