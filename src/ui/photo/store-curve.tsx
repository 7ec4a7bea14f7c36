import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Moment } from '../../log/schema/fields.ts'
import type { Json } from '../../log/schema/types.ts'
import { useServices } from '../../session/services.ts'
import { say } from '../spoken.tsx'
import { useSaving } from '../use-saving.ts'

/** What a recovered tone curve belongs to. */
export interface CurveOrigin {
  /** Of the sweep, not of keeping it: its age is counted from here. */
  readonly date: Moment
  readonly camera: string
  readonly cameraId: string
  /** The way to the picture that it holds for. */
  readonly curveId: string
  readonly simulated: boolean
}

/**
 * Keeps a recovered tone curve in the kit: later pictures of this camera need no sweep.
 *
 * @param id of the sweep: readings by the sweep and by the kept curve err together
 * @param originOf asked when the curve is kept; null where its photo is gone
 */
export function KeepCurve({
  id,
  curve,
  originOf,
  label,
}: {
  id: string
  curve: ToneCurve
  originOf: (now: Date) => CurveOrigin | null
  label: string
}) {
  const { kit, now } = useServices()
  const { busy, run } = useSaving()
  const kept = kit.curves.value.some((one) => one.id === id)
  const keep = () =>
    run(async (log) => {
      const origin = originOf(now())
      if (!origin) return
      const { date, camera, cameraId, curveId, simulated } = origin
      await log.kit.add({
        id,
        kind: 'tone curve',
        name: `Tone curve, ${camera}`,
        date,
        cameraId,
        simulated,
        data: { curve, curveId } as unknown as Json,
      })
      say('Tone curve kept in the kit.')
    })
  return (
    <button type="button" disabled={kept || busy.value} onClick={() => void keep()}>
      {kept ? 'Curve kept' : label}
    </button>
  )
}
