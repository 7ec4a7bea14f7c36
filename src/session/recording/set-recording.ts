import {
  heatsWith,
  type StandingHeat,
  scaleByHeats,
  stepsSince,
} from '../../estimate/recording/set-by-heats.ts'
import type { RecordingColumns } from '../../log/recordings/columns.ts'
import type { NewRecording, StoredRecording } from '../../log/recordings/types.ts'
import type { Json } from '../../log/schema/types.ts'
import { curveOf } from './curve-of.ts'
import { detailsOf, type RecordingDetails, type SetHeat } from './recording-details.ts'

/** With more the curve is no longer set, but drawn. */
export const MOST_HEATS = 2

export interface SetRecording {
  readonly draft: NewRecording
  readonly columns: RecordingColumns
  readonly details: Json
}

/**
 * A recording put through a heat that stood in it, and through those that set it before: another one,
 * to be kept beside the first.
 *
 * @param object what it is called
 */
export function setByHeat(
  { head, columns }: Pick<StoredRecording, 'head' | 'columns'>,
  details: RecordingDetails,
  heat: SetHeat,
  object: string,
): SetRecording {
  const { seconds, jumps = [] } = curveOf(columns)
  const heats = heatsWith(details.heats, heat, jumps)
  const scale = scaleByHeats(heats, details.rateShare)
  const now: StandingHeat[] = heats.map((one) => ({
    ...one,
    readK: scale.temperatureK(one.readK),
  }))
  const temperatureK = columns.temperatureK.map(scale.temperatureK)
  const { source, simulated, startedAt, cameraId, methodVersion, material, cover, notes, marks } =
    head
  return {
    draft: {
      source,
      simulated,
      startedAt,
      cameraId,
      methodVersion,
      material,
      cover,
      notes,
      marks,
      object: object.slice(0, 200),
    },
    columns: {
      ...columns,
      temperatureK,
      noiseK: columns.noiseK.map((kelvin, i) => {
        const grown = (temperatureK[i]! / columns.temperatureK[i]!) ** 2
        return kelvin * grown * scale.stretch
      }),
      commonK: temperatureK.map((kelvin, i) =>
        Math.hypot(scale.commonK(kelvin), stepsSince(seconds[i]!, heats, jumps)),
      ),
    },
    details: detailsOf(
      details.looks.map((look) => ({
        ...look,
        temperatureK: scale.temperatureK(look.temperatureK),
      })),
      details.facts,
      scale.rateShare,
      now.map((one, k) => ({ ...one, name: heats[k]!.name })),
    ),
  }
}
