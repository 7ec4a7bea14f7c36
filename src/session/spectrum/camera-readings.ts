import { REFERENCE_RANGE_K } from '../../estimate/spectrum/lamp.ts'
import type { Summary } from '../../log/schema/types.ts'
import { BY_COLOUR } from '../log/older-method.ts'

/** Can a reading of the log stand for a spectrum's reference: measured by a camera, hot enough? */
export function isByCamera({
  method,
  kind,
  simulated,
  demo,
  damaged,
  temperatureK,
  standardUncertaintyK,
}: Summary): boolean {
  if (simulated || demo || damaged || kind !== 'temperature' || !BY_COLOUR.includes(method)) {
    return false
  }
  const [least, most] = REFERENCE_RANGE_K
  return (
    temperatureK !== null &&
    temperatureK >= least &&
    temperatureK <= most &&
    standardUncertaintyK !== null
  )
}
