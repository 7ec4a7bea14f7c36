import { effect, signal } from '@preact/signals'
import type { Log } from '../log/schema/types.ts'
import type { TemperatureUnit } from '../physics/units.ts'
import { temperatureUnit } from './temperature.ts'

/** Whether the cautions were accepted: null while the answer is being read. */
export const cautionsAccepted = signal<boolean | null>(null)

/**
 * Kept in localStorage, not in the log: they are wanted before the database is open, they are worth
 * nothing to a backup, and a full or refused database must not stand before the cautions.
 */
const UNIT = 'glowbook.unit'
const ACCEPTED = 'glowbook.cautions'
/** Raised when the cautions change in substance: they are then shown once more. */
const CAUTIONS_EDITION = '1'

/** A setting of this device; null where there is none, or storage is refused. */
export const storedSetting = (name: string): string | null => {
  try {
    return localStorage.getItem(name)
  } catch {
    return null
  }
}
export const storeSetting = (name: string, value: string): void => {
  try {
    localStorage.setItem(name, value)
  } catch {
    // A browser that refuses storage asks again next time; nothing is lost.
  }
}

const isUnit = (text: string | null): text is TemperatureUnit =>
  text === 'C' || text === 'F' || text === 'K'

/** Reads the settings and keeps them from then on. */
export function startSettings(): () => void {
  const unit = storedSetting(UNIT)
  if (isUnit(unit)) temperatureUnit.value = unit
  cautionsAccepted.value = storedSetting(ACCEPTED) === CAUTIONS_EDITION
  return effect(() => storeSetting(UNIT, temperatureUnit.value))
}

export function acceptCautions(): void {
  cautionsAccepted.value = true
  storeSetting(ACCEPTED, CAUTIONS_EDITION)
}

/** Asks for storage that the browser does not clear by itself, once there is something to lose. */
export async function askToKeep(log: Log): Promise<void> {
  const { persisted } = await log.status()
  if (persisted === false) await log.requestPersistence()
}

const TOLD = 'glowbook.may-be-cleared'

/** Asks likewise; true once on this device where the browser may still clear it, to be said. */
export async function mayBeCleared(log: Log): Promise<boolean> {
  await askToKeep(log)
  const { persisted } = await log.status()
  if (persisted !== false || storedSetting(TOLD) !== null) return false
  storeSetting(TOLD, 'said')
  return true
}
