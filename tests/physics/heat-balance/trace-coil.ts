import type { Coil } from '../../../src/physics/heat-balance/view-factor.ts'

/** A small generator of numbers in 0..1 with a seed, so that a run can be repeated. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/**
 * Share of diffuse light from a stack of rings that never meets the stack again, by tracing rays
 * with steps of the distance to the nearest ring. Shares no code with the closed form.
 */
export function traceCoilEscape(coil: Coil, rays: number, random: () => number): number {
  const ring = coil.coilDiameterM / 2
  const wire = coil.wireDiameterM / 2
  const far = 50 * (ring + coil.turns * coil.pitchM)
  const distance = (x: number, y: number, z: number) => {
    const nearest = Math.min(coil.turns - 1, Math.max(0, Math.round(z / coil.pitchM)))
    return Math.hypot(Math.hypot(x, y) - ring, z - nearest * coil.pitchM) - wire
  }
  let escaped = 0
  for (let k = 0; k < rays; k++) {
    // A point of the ring, as often as its area asks; by symmetry always at azimuth 0.
    let around = 0
    do around = 2 * Math.PI * random()
    while (random() * (ring + wire) > ring + wire * Math.cos(around))
    const [nx, nz] = [Math.cos(around), Math.sin(around)]
    const share = random()
    const turn = 2 * Math.PI * random()
    const [along, across] = [Math.sqrt(1 - share), Math.sqrt(share)]
    const dx = along * nx - across * Math.cos(turn) * nz
    const dy = across * Math.sin(turn)
    const dz = along * nz + across * Math.cos(turn) * nx
    const start = wire * (1 + 2e-4)
    const x = ring + start * nx
    const z = Math.floor(random() * coil.turns) * coil.pitchM + start * nz
    let gone = 0
    let gap = wire
    while (gone < far && gap > wire * 5e-5) {
      gap = distance(x + gone * dx, gone * dy, z + gone * dz)
      gone += gap
    }
    if (gone >= far) escaped++
  }
  return escaped / rays
}
