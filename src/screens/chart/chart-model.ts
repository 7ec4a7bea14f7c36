import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { roomLightXyz, visibleFromK } from '../../colour/glow-visibility.ts'
import { type HeatSwatch, type HeatSwatchSettings, heatSwatch } from '../../colour/heat-swatch.ts'
import type { CameraLook, HeatView } from '../../colour/heat-view.ts'
import { WHITE_D65 } from '../../colour/rgb-spaces.ts'
import type { SpectralEmissivity } from '../../physics/emissivity.ts'
import { materialById, spectralEmissivity } from '../../physics/materials.ts'
import { screenSpace } from '../../ui/screen-space.ts'
import { ROOMS, type RoomId } from '../../ui/words/chart.ts'
import type { MarkKind } from './marks.ts'
import { type Span, WHOLE, WORKSHOP } from './scale.ts'

export interface ChartModel {
  readonly viewKind: Signal<HeatView['kind']>
  readonly marks: Signal<MarkKind>
  readonly materialId: Signal<string>
  readonly room: Signal<RoomId>
  /** Steps of this many kelvin, or 0 for a continuous band. */
  readonly stepK: Signal<number>
  readonly span: Signal<Span>
  readonly cursorK: Signal<number>
  /** Swatches over the whole chart, computed once for each setting; zooming draws from them. */
  readonly strip: ReadonlySignal<readonly HeatSwatch[]>
  readonly swatchAt: (temperatureK: number) => HeatSwatch
  readonly visibleFromK: ReadonlySignal<number>
  /** Materials of the user's own readings, for the limits; empty: all of them. */
  readonly materialIds: Signal<readonly string[]>
}

/** Every 8 K: neighbours differ by less than half of what an eye can see (CIEDE2000 below 0.5). */
const GRID_K = 8
const GRID_COUNT = Math.round((WHOLE.highK - WHOLE.lowK) / GRID_K) + 1
const MIDDLE_K = 1300

export function createChartModel(look: ReadonlySignal<CameraLook | null>): ChartModel {
  const viewKind = signal<HeatView['kind']>('dark-shop')
  const marks = signal<MarkKind>('names')
  const materialId = signal('grey-body')
  const room = signal<RoomId>('dark')
  const stepK = signal(0)
  const span = signal<Span>(WORKSHOP)
  const cursorK = signal(1173.15)

  const settings = computed<HeatSwatchSettings>(() => {
    const material = materialById(materialId.value)
    const lux = ROOMS.find(({ id }) => id === room.value)?.lux ?? 0
    const emissivity: SpectralEmissivity | undefined = material
      ? (wavelengthNm, temperatureK) =>
          spectralEmissivity(material, wavelengthNm, temperatureK).value
      : undefined
    const reflectance = material ? 1 - spectralEmissivity(material, 550, MIDDLE_K).value : 0
    const view: HeatView =
      viewKind.value === 'camera' && look.value
        ? { kind: 'camera', look: look.value }
        : { kind: viewKind.value === 'hue' ? 'hue' : 'dark-shop' }
    return {
      view,
      screen: screenSpace,
      emissivity,
      room: lux > 0 ? roomLightXyz(lux, reflectance, WHITE_D65) : undefined,
    }
  })

  return {
    viewKind,
    marks,
    materialId,
    room,
    stepK,
    span,
    cursorK,
    materialIds: signal<readonly string[]>([]),
    strip: computed(() =>
      Array.from({ length: GRID_COUNT }, (_, i) =>
        heatSwatch(WHOLE.lowK + i * GRID_K, settings.value),
      ),
    ),
    swatchAt: (temperatureK) => heatSwatch(temperatureK, settings.value),
    visibleFromK: computed(() => {
      const { room: light, emissivity } = settings.value
      return visibleFromK(light?.[1] ?? 0, emissivity)
    }),
  }
}

/** The swatch of the strip next to a temperature. */
export function stripAt(strip: readonly HeatSwatch[], temperatureK: number): HeatSwatch {
  const i = Math.round((temperatureK - WHOLE.lowK) / GRID_K)
  return strip[Math.min(strip.length - 1, Math.max(0, i))] as HeatSwatch
}
