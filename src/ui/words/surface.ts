import type { SurfaceEffect } from '../../physics/materials.ts'

/** What a surface does to this reading, in one sentence each. */
export const SURFACE_WORDS: Record<SurfaceEffect, string> = {
  'colour neutral':
    'Taken to glow alike in green and red, within ± 6 %: no correction, some uncertainty.',
  'colour reads hot':
    'Brighter in green than in red, so its colour reads hot. The known part is taken off.',
  'colour reads hot slope unknown':
    'Bare metal reads hot, and nobody can say by how much. Let it oxidise, or read a drilled hole.',
  'colour unusable':
    'Too steep for a colour reading: hundreds of degrees hot. Read the oxidised carrier or a cavity.',
  'loose scale reads cold': 'Loose scale is cooler than the metal under it. Brush first.',
  'fire light adds':
    'In a fire or beside flames it mirrors and adds their light. Read it outside, or flames off.',
  'cavity is black': 'A hole or a closed kiln is nearly black: no correction needed.',
  'bright surface mirrors': 'A bright surface mirrors lamps and flames. Darken the shop.',
  'oxide changes': 'Its skin grows and changes with heat: readings drift until it has settled.',
  'transparent skin': 'Its oxide is thin and glassy: the surface beneath may show through.',
  'coil inside brighter': 'The inside of a coil is closer to black than its outside. Aim inside.',
}
