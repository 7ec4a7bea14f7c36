import { materialById } from '../physics/materials.ts'
import type { BudgetTerm, GlowInput } from './types.ts'

/** A camera in one state: what its numbers, and its known heats, err by is common to its readings. */
export const cameraCause = ({ cameraId, channels, balanceState }: GlowInput): string =>
  `camera ${cameraId} ${channels} ${balanceState.kind}`

/**
 * The cause that a term of the budget shares with other readings, which then err together; null for
 * a reading's own. One filter leaks in all photos of a camera, and one software makes them vivid.
 */
export function sharedCause(term: BudgetTerm, input: GlowInput): string | null {
  switch (term) {
    case 'camera':
    case 'infrared leak':
    case 'colour rendering':
    case 'reference temperature':
    case 'reference photo':
      return cameraCause(input)
    case 'tone curve':
      return 'curveId' in input.linearity ? `curve ${input.linearity.curveId}` : null
    case 'grey reference':
      return input.balance ? `grey ${input.balance.id}` : `no grey ${input.cameraId}`
    case 'surface':
      // What nobody has said is not one and the same thing twice.
      return materialById(input.surface.id) ? `surface ${input.surface.id}` : null
    case 'window':
      return input.window ? `window ${input.window.id}` : null
    default:
      return null
  }
}
