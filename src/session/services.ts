import type { ReadonlySignal } from '@preact/signals'
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Log } from '../log/schema/types.ts'
import type { KitModel } from './kit/kit-model.ts'
import type { SafetyModel } from './safety/safety-model.ts'

/** What screens need from outside; built once in main.tsx, replaced in tests. */
export interface Services {
  /** Rejects with a LogError where the browser refuses storage: screens then say so and go on. */
  readonly log: Promise<Log>
  /** Another tab holds an older version of the log open: it opens when that tab is closed. */
  readonly logBlocked: ReadonlySignal<boolean>
  readonly kit: KitModel
  readonly safety: SafetyModel
  readonly now: () => Date
}

const ServicesContext = createContext<Services | null>(null)
export const ServicesProvider = ServicesContext.Provider

export function useServices(): Services {
  const services = useContext(ServicesContext)
  if (!services) throw new Error('services are provided in main.tsx')
  return services
}
