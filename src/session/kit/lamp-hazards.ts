import { type LampForm, meterReadingsOf } from './lamp-form.ts'

export type LampHazard = 'lamp over' | 'dimmer small'

/**
 * What the typed numbers say against lamp and dimmer: more volts or watts than the lamp is rated for, or
 * a dimmer rated below the lamp. What is not typed says nothing.
 */
export function lampHazards(form: LampForm): readonly LampHazard[] {
  const { ratedVolts, ratedWatts } = form.lamp
  const { volts, amperes, watts } = meterReadingsOf(form)
  const power = watts?.value ?? (volts && amperes ? volts.value * amperes.value : null)
  const over =
    (volts !== null && ratedVolts !== null && volts.value > ratedVolts) ||
    (power !== null && ratedWatts !== null && power > ratedWatts)
  const load = Math.max(power ?? 0, ratedWatts ?? 0)
  const small = form.dimmerWatts !== null && load > form.dimmerWatts
  return [...(over ? (['lamp over'] as const) : []), ...(small ? (['dimmer small'] as const) : [])]
}
