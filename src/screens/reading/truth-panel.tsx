import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { showTemperature } from '../../ui/temperature.ts'

/** For simulated light only: the true temperature, shown once there is a reading to hold against it. */
export function TruthPanel({ model }: { model: ReadingModel }) {
  const truthK = model.simulatedTruthK.value
  const estimate = model.estimate.value
  if (truthK === null || estimate?.kind !== 'temperature') return null
  const [low, high] = estimate.interval95K
  const inside = truthK >= low && truthK <= high
  return (
    <p class="card">
      Simulated photo. The true temperature is <strong>{showTemperature(truthK)}</strong>:{' '}
      {inside ? 'inside' : 'outside'} the stated range.
    </p>
  )
}
