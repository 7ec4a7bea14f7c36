/**
 * What stands between the glow and the camera, as a colour reading sees it: only the slope of its
 * transmittance between green and red counts, a loss common to both does not.
 */
export interface WindowMaterial {
  readonly id: 'glass' | 'quartz' | 'heat-absorbing' | 'clear-other'
  readonly name: string
  /** ln(transmittance at 550 nm / at 650 nm). */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
  /** Transmittance from 780 to 1100 nm over that of the visible; absent: the same. */
  readonly infrared?: number
  readonly source: string
}

export const WINDOWS: readonly WindowMaterial[] = [
  {
    id: 'glass',
    name: 'Clear window glass',
    // Iron gives float glass its green edge: a pane of 4 mm passes some 1 to 3 % less red than green.
    lnGreenOverRed: 0.015,
    standardUncertainty: 0.015,
    source: 'common practice',
  },
  {
    id: 'quartz',
    name: 'Quartz glass',
    // Fused silica is free of colour in the visible: what it loses it loses by reflection.
    lnGreenOverRed: 0,
    standardUncertainty: 0.005,
    source: 'common practice',
  },
  {
    id: 'heat-absorbing',
    name: 'Heat-absorbing glass, 2 to 3 mm',
    // Iron in phosphate glass: 0.88 at 550, 0.77 at 650 nm, some hundredths from 780 nm on.
    lnGreenOverRed: 0.13,
    standardUncertainty: 0.06,
    infrared: 0.03,
    source: 'data sheets of phosphate glasses, from memory',
  },
  {
    id: 'clear-other',
    name: 'Something else, clear',
    lnGreenOverRed: 0,
    standardUncertainty: 0.05,
    source: 'common practice: a tint that nobody notices stays under 5 %',
  },
]

/** Stands for a pane that is in no list and known by a table of its own. */
export const MEASURED_WINDOW = 'measured'

export const windowById = (id: string): WindowMaterial | undefined =>
  WINDOWS.find((window) => window.id === id)
