/** What the estimate takes: see types.ts. */

import type { Channels, LinearColour, RgbSpace } from '../light/image.ts'
import type { Matrix3, Triple } from '../numerics/matrix3.ts'
import type { LeakTest } from './leak-test.ts'

/**
 * The white-balance state the camera worked in. It decides the camera's colour matrix, so a reference
 * counts only for readings of its own state.
 * `daylight` and `lamp` are presets; `locked` is locked on a stated colour temperature; `raw` means
 * that no balance was applied.
 */
export interface BalanceState {
  readonly kind: 'daylight' | 'lamp' | 'locked' | 'raw' | 'automatic' | 'unknown'
  /** Kelvin, where the camera states it; null when it does not. */
  readonly colourTemperatureK: number | null
  /** `verified`: two photos of one card have shown that it holds. Absent: set, not tried. */
  readonly lock?: 'verified' | 'set'
}

/** The light that lit the grey reference. In raw channels the locus is counted from this light. */
export interface CardLight {
  readonly kind: 'daylight' | 'filament' | 'other'
  /** Correlated colour temperature, K. */
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
}

/**
 * Gains found on a grey reference.
 * In Display P3 they carry the card to the chromaticity of the light that lit it; in camera channels
 * they carry the card to equal channels.
 */
export interface GreyBalance {
  /** Photos balanced with one and the same grey reference share its error. */
  readonly id: string
  /** Natural logarithms of the gains of R, G, B; a common constant is without effect. */
  readonly logGains: Triple
  /** Covariance of {@link logGains}: card noise and the stated light together. */
  readonly covariance: Matrix3
  readonly light: CardLight
  /** The card stood in the very picture of the glow, so that a moving balance moved both. */
  readonly samePicture?: boolean
}

/** How the pixels became linear light, with what is left uncertain about it. */
export type Linearity =
  /** Linear by construction: practice bench, linear file. */
  | { readonly kind: 'linear' }
  /** Raw pixels. */
  | { readonly kind: 'raw' }
  /**
   * A tone curve recovered from an exposure sweep: this scene's own, or one kept for this camera.
   * The uncertainty is that of ln(G/R) and ln(B/R) of this colour; photos with the same `curveId`
   * share it.
   */
  | {
      readonly kind: 'sweep'
      readonly curveId: string
      readonly standardUncertaintyGreen: number
      readonly standardUncertaintyBlue: number
      /**
       * `standardUncertaintyGreen` by cause, signed; photos with the same `curveId` share the causes,
       * each in its own measure. Absent: one cause.
       */
      readonly greenErrors?: readonly number[]
      /**
       * Of either ratio, shared with no other photo: how alike the camera renders pictures, and
       * what may have changed since the curve was found. Absent: 0.
       */
      readonly ownUncertainty?: number
      /** Photos of an own sweep that show red and green: each has drifted for itself. Absent: one. */
      readonly photos?: number
    }
  /**
   * One ordinary photo, decoded with its colour space's nominal curve. Photos with the same
   * `curveId` (camera, lens, capture path, picture style) are taken to share one unknown tone curve.
   */
  | {
      readonly kind: 'single'
      readonly curveId: string
      /** Stored codes (code / top code, 0..1) of the region, before decoding and balancing. */
      readonly storedLevels: Triple
      /** The file's own RGB space, on whose channels a tone curve acts. */
      readonly space: RgbSpace
    }

/** A surface as a colour reading sees it: only the slope of its emissivity matters. */
export interface SurfaceSlope {
  /** Material id. */
  readonly id: string
  /** ln(emissivity at 550 nm / at 650 nm), 0 for a grey body; above 0 reads hot. */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
  /**
   * The very piece with its scale: photos of one share the error of the slope. Absent: surfaces of
   * one material differ by all of it.
   */
  readonly piece?: string
}

/** Glass or the like between glow and camera, by its transmittance slope. */
export interface WindowSlope {
  readonly id: string
  /** ln(transmittance at 550 nm / at 650 nm). */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
  /** What it passes of the infrared over what it passes of the visible; absent: the same. */
  readonly infrared?: number
}

/** What the region statistics found out about the pixels. */
export interface RegionQuality {
  /** Share of the pixels left out because a channel was at the top, 0..1. */
  readonly clippedShare: number
  /** Share of the pixels whose red, green, blue was at the floor (code 0), 0..1. */
  readonly floorShare: Triple
  /** Background that was subtracted over what is left of the glow (red channel), 0..1 and above. */
  readonly backgroundShare: number
  /** Narrowest extent of the glow, pixels. */
  readonly glowWidthPixels: number
  /** The file stores colour at half resolution (4:2:0 and the like). */
  readonly chromaSubsampled: boolean
  /** Standard uncertainty of ln(G/R) by the halo of sharpened edges; absent: none shows. */
  readonly haloLnRatio?: number
}

/**
 * What makes the level of a photo comparable with other levels of its camera: they say how bright the
 * glow was, against a known heat a second thermometer.
 */
export interface LevelConditions {
  readonly exposureSeconds: number
  readonly iso: number
  readonly fNumber: number
  /** Distance of the region from the centre of the picture over half of its diagonal, 0..1. */
  readonly fieldRadius: number
  /**
   * Light that this setting gathers over what it states, ln, as photos of one scene have told; absent:
   * nobody has tried.
   */
  readonly measured?: { readonly lnOff: number; readonly standardUncertainty: number }
  /** A frame of a stream with its exposure locked: an unknown tone curve bends all of them alike. */
  readonly stream?: true
}

/** One photo of something of known temperature: an observation of this camera's own locus. */
export interface KnownHeatReference {
  readonly id: string
  readonly name: string
  readonly cameraId: string
  /** ISO 8601. */
  readonly takenAt: string
  /**
   * True temperature, K; for a lamp its colour temperature, with a grey surface
   * (`lnGreenOverRed: 0`).
   */
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  readonly glow: LinearColour
  readonly channels: Channels
  readonly balance: GreyBalance | null
  readonly balanceState: BalanceState
  readonly linearity: Linearity
  readonly surface: SurfaceSlope
  /** Id shared by references whose temperatures err together (one lamp, one meter); else null. */
  readonly group: string | null
  /** Absent where exposure or place is not known: the reference then speaks by its colour alone. */
  readonly level?: LevelConditions
}

/** Everything that one reading rests on. */
export interface GlowInput {
  /** Colours as the sensor has them, by construction: the practice bench. Raw is so anyway. */
  readonly faithfulColours?: boolean
  /** Background subtracted, not balanced, in `channels`; mean and covariance of that mean. */
  readonly glow: LinearColour
  readonly channels: Channels
  /**
   * Camera channels to XYZ (the inverse of a raw file's colour matrix for daylight), else null. With
   * it raw pixels are read by the locus of colour-managed cameras, which is the better known one;
   * without it by that of raw channels.
   */
  readonly cameraToXyz: Matrix3 | null
  readonly balance: GreyBalance | null
  readonly balanceState: BalanceState
  readonly linearity: Linearity
  readonly quality: RegionQuality
  readonly surface: SurfaceSlope
  readonly window: WindowSlope | null
  readonly cameraId: string
  /** ISO 8601, or null when unknown. */
  readonly takenAt: string | null
  readonly references: readonly KnownHeatReference[]
  /** Absent where exposure or place is not known. */
  readonly level?: LevelConditions
  /** Tests of the camera's infrared filter; absent: none was done. */
  readonly leakTests?: readonly LeakTest[]
}
