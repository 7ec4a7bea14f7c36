import type { Moment } from '../../log/schema/fields.ts'
import type { Json } from '../../log/schema/types.ts'
import type { MadeMap } from '../../sources/map/map-operations.ts'
import type { MappedReading } from '../log/compare-maps.ts'
import { packedMap } from '../log/stored-map.ts'
import type { ReadingModel } from './reading-model-type.ts'
import { resultOf } from './reading-record.ts'

/** The open photo's reading with its map as the log would keep them; null without a figure. */
export function mappedInHand(
  model: Pick<ReadingModel, 'glow' | 'estimate' | 'input' | 'object' | 'simulatedTruthK'>,
  made: MadeMap,
  takenAt: Moment,
): MappedReading | null {
  const [estimate, input, photo] = [
    model.estimate.peek(),
    model.input.peek(),
    model.glow.photo.peek(),
  ]
  if (estimate?.kind !== 'temperature' || !photo) return null
  const { width, height } = photo
  return {
    result: resultOf(estimate, input),
    recomputations: [],
    inputs: asStored(input),
    details: asStored({ map: packedMap(made), photo: { width, height } }),
    simulated: model.simulatedTruthK.peek() !== null,
    demo: false,
    object: model.object.peek().trim(),
    takenAt,
  }
}

const asStored = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json
