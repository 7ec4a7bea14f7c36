import { computed, effect, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { MEAN_CAMERA } from '../../light/simulate/mean-camera.ts'
import type { Log } from '../../log/schema/types.ts'
import {
  type BrightnessTemperature,
  brightnessTemperatureFromLevel,
  exposureFactor,
  hotterThanBefore,
  LEAST_LEVEL_KEPT,
  levelKeptUnderBlur,
  type PassBand,
  type Surface,
} from '../../physics/brightness.ts'
import { materialById, spectralEmissivity } from '../../physics/materials.ts'
import { type LevelReading, levelReading } from './level-reading.ts'

export interface BrightnessAnswer {
  readonly found: BrightnessTemperature
  /** Kelvin hotter than the reference, if both are the same object and surface. */
  readonly hotter: { readonly value: number; readonly standardUncertainty: number }
  readonly thin: boolean
  readonly curveUnknown: boolean
}

export interface BrightnessModel {
  readonly readings: ReadonlySignal<readonly LevelReading[] | null>
  readonly referenceId: Signal<string>
  readonly glowId: Signal<string>
  readonly answer: ReadonlySignal<BrightnessAnswer | null>
  readonly failure: ReadonlySignal<unknown>
  dispose(): void
}

/** Mean red of measured cameras; single cameras lie some 5 nm beside it. */
const BAND: PassBand = {
  wavelengthNm: MEAN_CAMERA.values.map((_, i) => MEAN_CAMERA.firstNm + i * MEAN_CAMERA.stepNm),
  weight: MEAN_CAMERA.values.map(([red]) => red),
}
const BAND_SHIFT_NM = 5
/** Full width of the blur of lens and demosaicing, pixels; common practice. */
const BLUR_PIXELS = 4
/** An unknown tone curve bends ln(level) by this share of the difference: contrast +-17 %. */
const CURVE_BEND = 0.17
const MOST = 60

function surfaceOf(materialId: string): Surface | null {
  const material = materialById(materialId)
  if (!material) return null
  const red = spectralEmissivity(material, 650, 1200)
  return {
    emissivity: (nm, kelvin) => spectralEmissivity(material, nm, kelvin).value,
    relativeUncertainty: red.standardUncertainty / red.value,
  }
}

export function createBrightnessModel(log: Promise<Log>): BrightnessModel {
  const readings = signal<readonly LevelReading[] | null>(null)
  const referenceId = signal('')
  const glowId = signal('')
  const failure = signal<unknown>(null)
  let disposed = false
  log
    .then(async (opened) => {
      const view = await opened.find({ methods: ['photo', 'raw', 'sweep', 'live', 'practice'] })
      const stored = await Promise.all(view.ids(0, MOST).map((id) => opened.get(id)))
      if (disposed) return
      readings.value = stored.flatMap((found) =>
        found?.state === 'sound' ? (levelReading(found.reading) ?? []) : [],
      )
    })
    .catch((error: unknown) => {
      if (!disposed) failure.value = error
    })
  const stop = effect(() => {
    const [newest, older] = readings.value ?? []
    if (!glowId.value && newest) glowId.value = newest.reading.id
    if (!referenceId.value && older) referenceId.value = older.reading.id
  })

  const answer = computed<BrightnessAnswer | null>(() => {
    const of = (id: string) => readings.value?.find(({ reading }) => reading.id === id)
    const glow = of(glowId.value)
    const reference = of(referenceId.value)
    if (!glow || !reference || glow === reference) return null
    if (glow.capture !== reference.capture) return null
    const known = reference.reading.result
    if (known.kind !== 'temperature') return null
    const surface = surfaceOf(glow.reading.material)
    const referenceSurface =
      reference.reading.material === glow.reading.material
        ? surface
        : surfaceOf(reference.reading.material)
    if (!surface || !referenceSurface) return null
    const curveUnknown = !glow.linear || !reference.linear
    const bend = curveUnknown
      ? CURVE_BEND * Math.abs(Math.log(glow.red.level.value / reference.red.level.value))
      : 0
    const level = {
      value: glow.red.level.value,
      standardUncertainty: Math.hypot(
        glow.red.level.standardUncertainty,
        bend * glow.red.level.value,
      ),
    }
    const temperature = {
      value: known.temperatureK,
      standardUncertainty: known.standardUncertaintyK,
    }
    const found = brightnessTemperatureFromLevel({
      band: BAND,
      bandShiftNm: BAND_SHIFT_NM,
      glow: { ...glow.red, level },
      surface,
      reference: { ...reference.red, temperature, surface: referenceSurface },
    })
    if (!found) return null
    const exposures = exposureFactor(reference.red.exposure) / exposureFactor(glow.red.exposure)
    const ratio = (level.value / reference.red.level.value) * exposures
    const relative = Math.hypot(
      level.standardUncertainty / level.value,
      reference.red.level.standardUncertainty / reference.red.level.value,
    )
    return {
      found,
      hotter: hotterThanBefore(BAND, temperature, {
        value: ratio,
        standardUncertainty: ratio * relative,
      }),
      thin: levelKeptUnderBlur(glow.widthPixels, BLUR_PIXELS) < LEAST_LEVEL_KEPT,
      curveUnknown,
    }
  })

  return {
    readings,
    referenceId,
    glowId,
    answer,
    failure,
    dispose() {
      disposed = true
      stop()
    },
  }
}
