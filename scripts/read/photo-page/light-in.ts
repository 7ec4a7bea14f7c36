/** The measured glow of a case's files: one photo, by a curve or not, or a sweep. */
import { linearityByCurve } from '../../../src/estimate/linearity-by-curve.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import { middleRegion } from '../../../src/light/region-geometry.ts'
import { levelConditions } from '../../../src/session/reading/glow-input.ts'
import { linearityOf, linearityOfSweep } from '../../../src/session/reading/photo-meaning.ts'
import { openPicture } from '../../../src/sources/open-picture.ts'
import { openSweep } from '../../../src/sources/sweep/open-sweep.ts'
import { Refused } from './refused.ts'

/** @param curve of this camera, from a raw picture and a photo of one shot */
export async function lightIn(
  files: readonly File[],
  curve: ToneCurve | null,
  findings: unknown[],
) {
  const [first] = files
  if (files.length === 1 && first) {
    const photo = await openPicture(first)
    const used = photo.channels === 'camera' || photo.space !== curve?.space ? null : curve
    const measurement = await photo.measure(photo.proposal ?? middleRegion(photo), used)
    if (measurement.refused) {
      photo.close()
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
  const sweep = await openSweep(files)
  try {
    const exposures = sweep.photos.map(({ exposure }) => exposure)
    if (exposures.some((exposure) => exposure === null)) throw new Refused('exposures not stated')
    const region = sweep.base.proposal ?? middleRegion(sweep.base)
    const measurement = await sweep.base.measure(region)
    const found = await sweep.measure(region, exposures as number[])
    if (found.kind === 'refused') throw new Refused(found.reason, [found.values])
    findings.push(...found.findings)
    const linearity = linearityOfSweep(crypto.randomUUID(), found)
    // A sweep of its own has no scale in common with other photos.
    return { photo: sweep.base, measurement, glow: found.glow, linearity, level: null }
  } catch (error) {
    sweep.close()
    throw error
  }
}
