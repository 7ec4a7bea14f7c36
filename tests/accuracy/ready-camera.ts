/** A camera made ready as the app leads a person, and then single photos by it. */
import { linearityByCurve } from '../../src/estimate/linearity-by-curve.ts'
import { measureSweep } from '../../src/light/exposure-sweep/measure-sweep.ts'
import { planSweep } from '../../src/light/exposure-sweep/plan-sweep.ts'
import { kindOpen } from '../../src/light/exposure-sweep/sweep-result.ts'
import { applyToneCurve } from '../../src/light/exposure-sweep/tone-curve.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { measureGlow } from '../../src/light/measure-glow.ts'
import { glowSpectrum } from '../../src/light/simulate/simulated-camera.ts'
import { storedLevels } from '../../src/light/stored-levels.ts'
import { fixedPointTemperature } from '../../src/physics/fixed-points.ts'
import { nearestMelt } from '../../src/session/kit/nearest-melt.ts'
import { type Path, type Seen, SOME_K, saltDrawn, seenBySweep, stepsOf } from './paths.ts'
import { BAR_REGION, drawSession, FINE, photographBar, redForCode } from './photo-scene.ts'

/** Red of the photo from which the sweep is planned, stored code. */
const PLANNED_FROM = 0.8
/**
 * Red of a photo taken as the app asks: "expose longer" is said below 0.7 (session/reading/next-step.ts), a
 * sweep begins at 0.93 (plan-sweep.ts). Else: whatever a person brings that is neither black nor clipped.
 */
const AS_ASKED = [0.7, 0.93] as const
const ANYHOW = [0.3, 0.93] as const

/**
 * What photos by one lock and one curve differ by, ln(G/R): balance 0.005 (estimate/balance-drift.ts) and
 * rendering 0.01 (light/exposure-sweep/tone-curve.ts), both common practice.
 */
const PHOTO_TO_PHOTO = Math.hypot(0.005, 0.01)

/** The melt that the ready job offers once there is salt, for work at 900 °C. */
function secondMelt() {
  const found = fixedPointTemperature({ id: nearestMelt(1173.15) })
  if (!found.ok) throw new Error('the second melt depends on what is not stated')
  const { temperatureK, standardUncertaintyK } = found
  return { temperatureK, standardUncertaintyK }
}

/**
 * Lock, one card, a sweep of melting salt by the app's own plan whose curve is kept; then single photos
 * undone by that curve.
 */
function ready(
  name: string,
  codes: readonly [number, number],
  { melts = 1, leaks = false }: { readonly melts?: 1 | 2; readonly leaks?: boolean } = {},
): Path {
  return {
    name,
    temperaturesK: SOME_K,
    drawShare: 0.5,
    againstLinear: false,
    prepare: ({ simulated, sensor, random }) => {
      const salt = saltDrawn(random)
      const drawn = drawSession(simulated, sensor, random, 'contrast', FINE)
      const session = leaks ? { ...drawn, leak: 1e-5 * 300 ** random.uniform() } : drawn
      const spectrum = glowSpectrum(salt)
      const first = redForCode(session, spectrum, PLANNED_FROM)
      const planned = storedLevels(photographBar(session, spectrum, first, random), BAR_REGION)
      const frames = planSweep(planned, false, null).stops.map((stop) => ({
        image: photographBar(session, spectrum, first * 2 ** stop, random),
        relativeExposure: 2 ** stop,
      }))
      const swept = measureSweep(frames, BAR_REGION, { steps: stepsOf(FINE) })
      // As the ready job does: a curve of an open kind is not kept, the sweep is asked for again.
      if (swept.kind === 'refused' || kindOpen(swept)) return { reference: null, read: () => null }
      const { curve } = swept
      const seen = (image: StoredImage): Seen | null => {
        const light = applyToneCurve(curve, image)
        const measured = measureGlow(light, BAR_REGION, {
          chromaSubsampled: false,
          codingSteps: stepsOf(FINE),
        })
        if (measured.refused) return null
        const levels = storedLevels(image, BAR_REGION)
        return { glow: measured.glow, linearity: linearityByCurve(curve, 'kept', levels, 0) }
      }
      const read = (kelvin: number) => {
        const code = codes[0] + (codes[1] - codes[0]) * random.uniform()
        const glow = glowSpectrum(kelvin)
        const photo = { ...session, drift: PHOTO_TO_PHOTO * random.normal() }
        return seen(photographBar(photo, glow, redForCode(photo, glow, code), random))
      }
      const heat = secondMelt()
      const melt =
        melts === 2 ? read(heat.temperatureK + heat.standardUncertaintyK * random.normal()) : null
      return {
        reference: seenBySweep(swept, 'kept'),
        others: melt ? [{ heat, seen: melt }] : [],
        read,
      }
    },
  }
}

export const READY_PATHS: readonly Path[] = [
  ready('ready camera', AS_ASKED),
  ready('ready camera, second melt', AS_ASKED, { melts: 2 }),
  ready('ready camera, exposed anyhow', ANYHOW),
  ready('ready camera, filters leak', AS_ASKED, { leaks: true }),
]
