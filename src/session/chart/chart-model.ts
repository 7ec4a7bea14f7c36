import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import { roomLightXyz, visibleFromK } from '../../colour/glow-visibility.ts'
import { type HeatStrip, heatStrip } from '../../colour/heat-strip.ts'
import { type HeatSwatch, type HeatSwatchSettings, heatSwatch } from '../../colour/heat-swatch.ts'
import type { HeatView } from '../../colour/heat-view.ts'
import { WHITE_D65 } from '../../colour/rgb-spaces.ts'
import type { ScreenSpace } from '../../colour/screen-gamut.ts'
import { lookAt } from '../../estimate/camera-look.ts'
import type { SpectralEmissivity } from '../../physics/emissivity.ts'
import { materialById, spectralEmissivity } from '../../physics/materials.ts'
import {
  type TemperatureUnit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../../physics/units.ts'
import { screenSpace } from '../../sources/screen-space.ts'
import type { KitModel } from '../kit/kit-model.ts'
import { createLookModel, type LookModel } from './look-model.ts'
import { type RoomId, roomLux } from './room-light.ts'
import { type Span, WORKSHOP } from './scale.ts'

/** What stands beside the colours; one kind at a time, so that a phone can be read. */
export type MarkKind = 'names' | 'work' | 'heats' | 'limits'

export interface ChartModel {
  readonly viewKind: Signal<HeatView['kind']>
  readonly marks: Signal<MarkKind>
  /** Empty: nobody has said it, the colours are those of a grey surface. */
  readonly materialId: Signal<string>
  readonly room: Signal<RoomId>
  /** What the view of a camera rests on. */
  readonly looks: LookModel
  /** Steps of this many degrees of the unit in use, or 0 for a continuous band. */
  readonly step: Signal<number>
  readonly span: Signal<Span>
  readonly cursorK: Signal<number>
  /** Colours over the whole chart, worked out once for each setting; zooming draws from them. */
  readonly strip: ReadonlySignal<HeatStrip>
  readonly swatchAt: (temperatureK: number, screen?: ScreenSpace) => HeatSwatch
  /** In the view of a camera: between which temperatures a glow of the same colour may lie. */
  readonly rangeAt: (temperatureK: number) => LookRange | null
  readonly visibleFromK: ReadonlySignal<number>
  /** Materials of the user's own readings, for the limits; empty: all of them. */
  readonly materialIds: Signal<readonly string[]>
  dispose(): void
}

/** 19 times in 20, K; null: no bound on this side. */
export type LookRange = Pick<ReturnType<typeof lookAt>, 'low95K' | 'high95K'>

const MIDDLE_K = 1300

export function createChartModel(kit: Pick<KitModel, 'heats' | 'state'>): ChartModel {
  const viewKind = signal<HeatView['kind']>('dark-shop')
  const marks = signal<MarkKind>('names')
  const materialId = signal('')
  const room = signal<RoomId>('dark')
  const step = signal(0)
  const span = signal<Span>(WORKSHOP)
  const cursorK = signal(1173.15)
  const looks = createLookModel(
    kit,
    computed(() => materialId.value || 'grey-body'),
    computed(() => viewKind.value === 'camera'),
  )

  const settings = computed<HeatSwatchSettings>(() => {
    const material = materialById(materialId.value) ?? materialById('grey-body')
    const lux = roomLux[room.value]
    const emissivity: SpectralEmissivity | undefined = material
      ? (wavelengthNm, temperatureK) =>
          spectralEmissivity(material, wavelengthNm, temperatureK).value
      : undefined
    const reflectance = material ? 1 - spectralEmissivity(material, 550, MIDDLE_K).value : 0
    return {
      view: viewOf(viewKind.value, looks),
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
    looks,
    step,
    span,
    cursorK,
    materialIds: signal<readonly string[]>([]),
    strip: computed(() => heatStrip(settings.value)),
    swatchAt: (temperatureK, screen = screenSpace) =>
      heatSwatch(temperatureK, { ...settings.value, screen }),
    rangeAt: (temperatureK) => {
      const look = looks.look.value
      return viewKind.value === 'camera' && look ? lookAt(look.table, temperatureK) : null
    },
    visibleFromK: computed(() => {
      const { room: light, emissivity } = settings.value
      return visibleFromK(light?.[1] ?? 0, emissivity)
    }),
    dispose: () => looks.dispose(),
  }
}

/** Until a camera's look is worked out there is nothing to show of it. */
function viewOf(kind: HeatView['kind'], looks: LookModel): HeatView {
  if (kind !== 'camera') return { kind }
  const look = looks.look.value
  return {
    kind,
    level: looks.level.value,
    look: (temperatureK) =>
      look ? lookAt(look.table, temperatureK) : { greenOverRed: 0, blueOverRed: 0 },
  }
}

/** The middle of the step that a temperature lies in; itself where the band is continuous. */
export function steppedK(temperatureK: number, step: number, unit: TemperatureUnit): number {
  if (step <= 0) return temperatureK
  const place = Math.floor(temperatureInUnit(temperatureK, unit) / step + 1e-9)
  return temperatureFromUnit((place + 0.5) * step, unit)
}
