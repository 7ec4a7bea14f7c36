import type { GlowEstimate, GlowInput } from '../../estimate/types.ts'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import type { Json, NewPicture, NewReading } from '../../log/schema/types.ts'
import { chromaticityOf, resultOf, swatchOf } from '../reading/reading-record.ts'
import type { LiveModel } from './live-model-type.ts'

/** Longest side of the small picture that goes with a reading. */
const PICTURE_SIDE = 320

/** A live reading as the log keeps it. Simulated light is a practice reading, whatever else it says. */
export function liveRecord(
  model: LiveModel,
  { estimate, input }: { estimate: GlowEstimate; input: GlowInput },
  { object, series, now }: { object: string; series: string | null; now: Date },
): NewReading {
  const truthK = model.camera.truthK()
  const simulated = model.camera.kind === 'practice'
  const takenAt = momentOf(now, deviceZone())
  const { eye } = estimate
  return {
    method: simulated ? 'practice' : 'live',
    simulated,
    result: resultOf(estimate, input),
    takenAt,
    object: object.trim(),
    notes: simulated ? 'Simulated: practice bench.' : '',
    material: model.desk.choices.peek().materialId,
    cover: model.desk.choices.peek().cover,
    series,
    swatch: eye && swatchOf(eye),
    chromaticity: eye && chromaticityOf(eye),
    inputs: { ...input, takenAt: takenAt.iso } as unknown as Json,
    details: {
      measurement: model.measurement.peek(),
      greyCard: input.balance && {
        measurement: model.card.peek(),
        light: model.desk.cardLight.peek(),
      },
      rolling: model.rolling.peek(),
      figure: model.figure.peek(),
      locks: model.locks.peek(),
      settings: model.camera.settings(),
      estimate,
      simulatedTruthK: truthK,
    } as unknown as Json,
  }
}

/** A small picture of what the camera sees. */
export async function livePicture({ camera }: LiveModel): Promise<NewPicture | undefined> {
  const size = camera.size()
  const scale = Math.min(1, PICTURE_SIDE / Math.max(size.width, size.height, 1))
  const width = Math.round(size.width * scale)
  const height = Math.round(size.height * scale)
  if (width < 1 || height < 1) return undefined
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  canvas.getContext('2d')?.drawImage(camera.picture, 0, 0, width, height)
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.85))
  return blob ? { blob, width, height } : undefined
}
