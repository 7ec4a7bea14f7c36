/** The measured glow of a case's files: one photo, by a curve or not, or a sweep. */
import { linearityByCurve, linearityOfSweep } from '../../../src/estimate/linearity-by-curve.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../../src/light/image.ts'
import { middleRegion } from '../../../src/light/region-geometry.ts'
import { levelConditions } from '../../../src/session/reading/glow-input.ts'
import { linearityOf } from '../../../src/session/reading/photo-meaning.ts'
import { openPicture } from '../../../src/sources/open-picture.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { Refused } from './refused.ts'
import type { SweptGlow } from './sweeps-of-case.ts'

/** @param curve of this camera, from a raw picture and a photo of one shot */
export async function lightOfPhoto(file: File, curve: ToneCurve | null, findings: unknown[]) {
  const photo = await openPicture(file)
  try {
    return await lightAt(photo, photo.proposal ?? middleRegion(photo), curve, findings)
  } catch (error) {
    photo.close()
    throw error
  }
}

/** A refused sweep is read by its best photo alone. */
export async function lightOfSweep({ sweep, region, found }: SweptGlow, findings: unknown[]) {
  if (found.kind === 'refused') {
    findings.push({ code: 'sweep refused', reason: found.reason, ...found.values })
    return lightAt(sweep.base, region, null, findings)
  }
  const measurement = await sweep.base.measure(region)
  findings.push(...found.findings)
  const linearity = linearityOfSweep(crypto.randomUUID(), found)
  // A sweep of its own has no scale in common with other photos.
  return { photo: sweep.base, measurement, glow: found.glow, linearity, level: null }
}

async function lightAt(photo: Photo, region: Region, curve: ToneCurve | null, findings: unknown[]) {
  const used = photo.channels === 'camera' || photo.space !== curve?.space ? null : curve
  const measurement = await photo.measure(region, used)
  if (measurement.refused) {
    const clipped = measurement.findings.some(({ code }) => code === 'clipped')
    throw new Refused(clipped ? 'clipped' : 'dark', measurement.findings)
  }
  findings.push(...photo.notes, ...measurement.findings)
  return {
    photo,
    measurement,
    linearity: used
      ? linearityByCurve(used, 'raw pair', measurement.storedLevels, 0)
      : linearityOf(photo, measurement, null),
    level: levelConditions(photo, measurement.region),
  }
}
