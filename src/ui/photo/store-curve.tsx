import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import { type CurveOrigin, storeCurve } from '../../session/kit/store-curve.ts'
import { useServices } from '../../session/services.ts'
import { say } from '../spoken.tsx'
import { useSaving } from '../use-saving.ts'

/**
 * Keeps a recovered tone curve in the kit: later pictures of this camera need no sweep.
 *
 * @param id of the sweep: readings by the sweep and by the kept curve err together
 * @param originOf asked when the curve is kept; null where its photo is gone
 */
export function KeepCurve({
  id,
  curve,
  channelOdds = 1,
  originOf,
  label,
}: {
  id: string
  curve: ToneCurve
  /** Of a curve on each channel, by the sweep. */
  channelOdds?: number
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
      await storeCurve(log, id, curve, origin, channelOdds)
      say('Tone curve kept in the kit.')
    })
  return (
    <button type="button" disabled={kept || busy.value} onClick={() => void keep()}>
      {kept ? 'Curve kept' : label}
    </button>
  )
}
