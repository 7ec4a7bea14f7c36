/** What a case may name: a name that is not known is answered with those that are. */
import * as v from 'valibot'
import { KNOWN_HEATS } from '../../src/physics/fixed-points.ts'
import { MATERIALS, materialById } from '../../src/physics/materials.ts'

const ids = MATERIALS.map(({ id }) => id).join(', ')

export const surfaceId = v.pipe(
  v.string(),
  v.check(
    (id) => materialById(id) !== undefined,
    ({ input }) =>
      `no such surface: ${input}; allowed: ${ids}, or { "lnGreenOverRed", "standardUncertainty" }`,
  ),
)

export const emitterId = v.pipe(
  v.string(),
  v.check(
    (id) => id === 'black body' || materialById(id) !== undefined,
    ({ input }) => `no such emitter: ${input}; allowed: black body, ${ids}`,
  ),
)

/** Those of a fixed temperature; what a thermocouple or crayon said is none. */
const heats = KNOWN_HEATS.filter(({ points }) => points.by !== 'value').map(({ id }) => id)

export const knownHeatId = v.picklist(
  heats,
  ({ received }) => `no such known heat: ${received}; allowed: ${heats.join(', ')}`,
)
