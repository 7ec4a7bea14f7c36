import { METHOD_VERSION } from '../../estimate/method-version.ts'
import { FLAGS } from '../../log/recordings/columns.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, Log } from '../../log/schema/types.ts'
import {
  streamName,
  type VideoCurve,
  type VideoFacts,
} from '../../sources/video/video-operations.ts'
import { columnsOf } from './column-writer.ts'
import { detailsOf } from './recording-details.ts'
import { settleCourse } from './settle-course.ts'
import type { VideoChoices } from './video-model.ts'

/** What a film showed, as one entry of the log; resolves to its id. @throws LogError */
export async function saveFilm(
  log: Log,
  curve: VideoCurve,
  of: File,
  about: VideoFacts,
  said: VideoChoices,
): Promise<string> {
  const readings = curve.ms.map((ms, i) => {
    const gap = curve.gap[i] ?? null
    const drifts = curve.driftsFrom >= 0 && i >= curve.driftsFrom
    return {
      ms,
      temperatureK: curve.temperatureK[i]!,
      noiseK: curve.noiseK[i]!,
      commonK: curve.commonK[i]!,
      lnRatio: curve.lnRatio[i]!,
      lnRed: curve.lnRed[i]!,
      flags:
        (gap ? FLAGS[gap] : 0) +
        (drifts ? FLAGS['balance drifts'] : 0) +
        (curve.flickers[i] ? FLAGS.flicker : 0),
    }
  })
  // A film says when it was written at best: its end.
  const ends = of.lastModified || Date.now()
  const began = new Date(ends - (readings.at(-1)?.ms ?? 0))
  const columns = columnsOf(readings)
  const exposureLocked = said.exposure === 'locked'
  const rateShare = settleCourse(columns, { swept: false, exposureLocked })
  const facts = { video: about, slowedBy: said.slowedBy, exposure: said.exposure }
  const head = await log.recordings.add(
    {
      source: 'video',
      simulated: false,
      startedAt: momentOf(began, deviceZone()),
      cameraId: streamName(about),
      methodVersion: METHOD_VERSION,
      object: said.object.trim() || of.name.replace(/\.[^.]+$/, '').slice(0, 200),
      material: said.materialId,
      cover: said.cover,
    },
    columns,
    detailsOf(curve.looks, facts as unknown as Json, rateShare),
  )
  return head.id
}
