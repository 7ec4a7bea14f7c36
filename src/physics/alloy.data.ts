import type { Alloy } from './alloy.ts'

/**
 * Wire and strip that people heat, resistivity at 20 °C in micro-ohm m with the spread between
 * grades and makers as standard uncertainty, and what a magnet at room temperature does.
 * Source: common practice of resistance-alloy tables (iron-chromium-aluminium 1.23 to 1.53 by grade,
 * 80Ni-20Cr 1.08 to 1.09, 60Ni-24Fe-16Cr 1.11 to 1.12) and, for the plain metals, CRC Handbook.
 */
export const ALLOYS: readonly Alloy[] = [
  { id: 'iron-chromium-aluminium', name: 'Iron-chromium-aluminium', microOhmM: 1.41, spread: 0.07, magnet: ['sticks'], materialId: 'fecral-oxidised' },
  { id: 'nickel-chromium-80-20', name: 'Nickel-chromium 80/20', microOhmM: 1.085, spread: 0.02, magnet: ['no'], materialId: 'nickel-chromium-oxidised' },
  { id: 'nickel-chromium-iron-60-16', name: 'Nickel-chromium-iron 60/16', microOhmM: 1.115, spread: 0.02, magnet: ['no', 'weak'], materialId: 'nickel-chromium-iron-oxidised' },
  { id: 'stainless-18-8', name: 'Stainless steel 18-8', microOhmM: 0.72, spread: 0.02, magnet: ['no', 'weak'], materialId: 'stainless-oxidised' },
  { id: 'copper-nickel', name: 'Copper-nickel (constantan)', microOhmM: 0.49, spread: 0.02, magnet: ['no'] },
  { id: 'steel', name: 'Carbon steel', microOhmM: 0.15, spread: 0.03, magnet: ['sticks'], materialId: 'steel-oxidised' },
  { id: 'nickel', name: 'Nickel', microOhmM: 0.08, spread: 0.01, magnet: ['sticks'], materialId: 'nickel-oxidised' },
  { id: 'tungsten', name: 'Tungsten', microOhmM: 0.0555, spread: 0.001, magnet: ['no'], materialId: 'tungsten-bare' },
  { id: 'copper', name: 'Copper', microOhmM: 0.0172, spread: 0.0005, magnet: ['no'], materialId: 'copper-oxidised' },
]
