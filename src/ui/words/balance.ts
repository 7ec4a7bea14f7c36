import type { BalanceState } from '../../estimate/types.ts'

/** How the camera's white balance was set. */
export const BALANCE_NAMES: Record<BalanceState['kind'], string> = {
  daylight: 'Locked on daylight',
  lamp: 'Locked on lamp light',
  locked: 'Locked on a value in kelvin',
  raw: 'Raw, none applied',
  automatic: 'Automatic',
  unknown: 'I do not know',
}

/** The same in a line of facts: "locked on 5500 K". */
export function balanceWords({ kind, colourTemperatureK }: BalanceState): string {
  if (kind === 'locked' && colourTemperatureK !== null) return `locked on ${colourTemperatureK} K`
  return kind === 'unknown' ? 'not known' : BALANCE_NAMES[kind].toLowerCase()
}
