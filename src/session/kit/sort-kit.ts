import * as v from 'valibot'
import type { InstrumentResponse } from '../../estimate/spectrum/types.ts'
import { issueText } from '../../log/index/rows.ts'
import type { KitItem } from '../../log/schema/types.ts'
import { cameraData } from './camera-data.ts'
import { earlierCurveData, greyData, knownHeatData, lampData, toneCurveData } from './kit-data.ts'
import { responseData } from './response-data.ts'
import type {
  EarlierCurve,
  StoredCamera,
  StoredCurve,
  StoredGrey,
  StoredHeat,
  StoredLamp,
  StoredResponse,
  UnreadableItem,
} from './stored-items.ts'

/** The kit sorted by kind; what does not fit its schema is told apart. */
export function sortKit(items: readonly KitItem[]) {
  const cameras: StoredCamera[] = []
  const greys: StoredGrey[] = []
  const heats: StoredHeat[] = []
  const lamps: StoredLamp[] = []
  const curves: StoredCurve[] = []
  const responses: StoredResponse[] = []
  const earlierCurves: EarlierCurve[] = []
  const unreadable: UnreadableItem[] = []
  for (const item of items) {
    const { id, name, cameraId, data } = item
    if (item.kind === 'grey reference') {
      const parsed = v.safeParse(greyData, data)
      if (parsed.success) {
        const { balance, channels, contentId } = parsed.output
        greys.push({
          id,
          name,
          cameraId,
          channels,
          balance: { ...balance, id: contentId ?? id },
          balanceKind: item.balanceState,
          takenAt: item.date.iso,
        })
      } else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    } else if (item.kind === 'known heat') {
      const parsed = v.safeParse(knownHeatData, data)
      if (parsed.success) {
        const { reference, off, origin, cameraToXyz } = parsed.output
        heats.push({ item, off, origin, cameraToXyz, reference: { ...reference, id, name } })
      } else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    } else if (item.kind === 'tone curve') {
      const parsed = v.safeParse(toneCurveData, data)
      const earlier = v.safeParse(earlierCurveData, data)
      if (parsed.success) {
        const { curve, curveId, channelOdds, check } = parsed.output
        const found = { curve, curveId, channelOdds, check }
        curves.push({ id, name, cameraId, ...found, foundAt: item.date.iso })
      } else if (earlier.success) earlierCurves.push({ id, name, curveId: earlier.output.curveId })
      else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    } else if (item.kind === 'camera') {
      const parsed = v.safeParse(cameraData, data)
      if (parsed.success) cameras.push({ item, data: parsed.output })
      else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    } else if (item.kind === 'lamp') {
      const parsed = v.safeParse(lampData, data)
      if (parsed.success) lamps.push({ item, lamp: parsed.output })
      else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    } else if (item.kind === 'response') {
      const parsed = v.safeParse(responseData, data)
      if (parsed.success) {
        // The schema leaves the findings' details open.
        const response = parsed.output.response as InstrumentResponse
        responses.push({ item, response, range: parsed.output.range })
      } else unreadable.push({ id, name, where: issueText(parsed.issues ?? []) })
    }
  }
  return { cameras, greys, heats, lamps, curves, earlierCurves, responses, unreadable }
}
