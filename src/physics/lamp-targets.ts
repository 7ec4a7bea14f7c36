/** What is photographed of a lamp; each keeps its colour temperature within a stated slope. */
export type LampTargetId = 'frosted-bulb' | 'grey-card' | 'white-paper' | 'filament'

export interface LampTarget {
  readonly id: LampTargetId
  /**
   * ln(green / red) that the target may add to the lamp's own light, standard uncertainty; its value
   * is taken as 0. 0.01 is 2.5 K at 1000 K and 18 K at 2700 K
   * (T^2 / 4024 K between 550 and 650 nm, Wien).
   */
  readonly slopeUncertainty: number
}

/**
 * Common practice: white frost and grey cards are neutral within 1 to 2 % between green and red;
 * paper is yellowish or brightened, 3 %. The bare filament needs no other surface, but a photo shows
 * only a few pixels of it.
 */
export const LAMP_TARGETS: readonly LampTarget[] = [
  { id: 'frosted-bulb', slopeUncertainty: 0.015 },
  { id: 'grey-card', slopeUncertainty: 0.015 },
  { id: 'white-paper', slopeUncertainty: 0.03 },
  { id: 'filament', slopeUncertainty: 0.01 },
]
