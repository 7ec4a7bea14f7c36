/** What glows by its supply: the shape of the balance, and what usually stands around it. */
import type { MeasuredShape, ShapeTerm } from '../../physics/heat-balance/supply-temperature.ts'
import type { Estimate } from '../../physics/materials.ts'

export type ElementId = 'wire' | 'coil' | 'coil in quartz' | 'coil in groove' | 'ribbon' | 'sheath'

export interface Element {
  readonly shape: MeasuredShape['shape']
  /** Share of the outward view that a tube or wall takes, and its temperature, °C; common practice. */
  readonly shield: {
    readonly share: Estimate
    readonly celsius: Estimate | null
    /** Share of the element that stands in the air of the shield. */
    readonly airShare: number
  } | null
}

/**
 * Quartz glass passes light below about 3.5 µm, half of what a body at 1150 K radiates (Planck), and
 * takes the rest; tubes of radiant heaters run at 600 to 800 °C, and so does the air in them. A groove
 * in brick takes about half of a coil's view and air; brick as hot as the coil gives back what it takes
 * (no temperature stated).
 */
export const ELEMENTS: Record<ElementId, Element> = {
  wire: { shape: 'wire', shield: null },
  coil: { shape: 'coil', shield: null },
  'coil in quartz': {
    shape: 'coil',
    shield: {
      share: { value: 0.5, standardUncertainty: 0.15 },
      celsius: { value: 700, standardUncertainty: 100 },
      airShare: 1,
    },
  },
  'coil in groove': {
    shape: 'coil',
    shield: { share: { value: 0.5, standardUncertainty: 0.15 }, celsius: null, airShare: 0.5 },
  },
  ribbon: { shape: 'ribbon', shield: null },
  // Of a sheathed element the sheath glows; what is inside is hotter.
  sheath: { shape: 'rod', shield: null },
}

export const TERMS: Record<MeasuredShape['shape'], readonly ShapeTerm[]> = {
  wire: ['lengthM', 'diameterM'],
  coil: ['wireDiameterM', 'coilDiameterM', 'pitchM', 'turns'],
  ribbon: ['lengthM', 'widthM', 'thicknessM'],
  rod: ['lengthM', 'diameterM'],
}

/** Standard uncertainty of a measure that is stated without one, as a share of it; common practice. */
const USUAL_SHARE = {
  lengthM: 0.02,
  diameterM: 0.03,
  wireDiameterM: 0.03,
  coilDiameterM: 0.03,
  pitchM: 0.05,
  turns: 0.01,
  widthM: 0.03,
  thicknessM: 0.05,
  volts: 0.015,
  amperes: 0.025,
  watts: 0.02,
  ohms: 0.02,
  emissivity: 0.06,
  'glowing share': 0.03,
} as const
/** The same where it does not grow with the value: °C, and a share of the view. */
const USUAL = { room: 3, 'shield share': 0.15, 'shield temperature': 100 } as const

export type UsualTerm = keyof typeof USUAL_SHARE | keyof typeof USUAL

/** What counts where the ± is left empty: in the unit of the value, two significant digits. */
export function usualUncertainty(term: UsualTerm, value: number): number {
  if (term in USUAL) return USUAL[term as keyof typeof USUAL]
  const exact = USUAL_SHARE[term as keyof typeof USUAL_SHARE] * Math.abs(value)
  return Number(exact.toPrecision(2))
}
