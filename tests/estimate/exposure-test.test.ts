import { describe, expect, it } from 'vitest'
import { type ExposedScene, exposureTest } from '../../src/estimate/exposure-test.ts'
import { CLIPPED } from '../../src/light/image.ts'
import type { LightMap } from '../../src/light/raw-pair/light-map.ts'

const SIDE = 20

/** A scene of five stops, seen with so much light; what is above 1 clips. */
function seen(light: number, moved = 0): LightMap {
  const cells = SIDE * SIDE
  const map = {
    width: SIDE,
    height: SIDE,
    cell: 4,
    of: { width: 4 * SIDE, height: 4 * SIDE },
    light: new Float32Array(3 * cells),
    flags: new Uint8Array(cells),
  }
  for (let cell = 0; cell < cells; cell++) {
    const here = light * 2 ** ((-5 * ((cell * (1 + moved)) % cells)) / cells)
    // Half a per cent of noise, the same pattern each time: no draws.
    const value = here * (1 + 0.005 * Math.sin(97 * cell + 13 * light))
    map.light.fill(Math.min(value, 1), 3 * cell, 3 * cell + 3)
    if (value > 1) map.flags[cell] = CLIPPED
  }
  return map
}

/** The marked series of shutter times, and the powers of two that they stand for (APEX, Exif 2.32, annex C). */
const SHUTTERS = [
  [1 / 4, 1 / 4],
  [1 / 8, 1 / 8],
  [1 / 15, 1 / 16],
  [1 / 30, 1 / 32],
  [1 / 60, 1 / 64],
  [1 / 125, 1 / 128],
  [1 / 250, 1 / 256],
] as const

const scene = (labelled: number, light: number, moved = 0): ExposedScene => ({
  exposure: { exposureSeconds: labelled, iso: 100, fNumber: 2 },
  map: seen(light, moved),
})

describe('exposures of one steady scene', () => {
  it('tell that 1/60 s is 1/64 s, 1/15 s is 1/16 s', () => {
    const found = exposureTest(SHUTTERS.map(([label, real]) => scene(label, 20 * real)))
    if (found.kind !== 'measured') throw new Error(found.reason)
    const off = new Map(found.exposures.map((one) => [one.exposureSeconds, one]))
    for (const [label, real] of SHUTTERS) {
      const { lnOff, standardUncertainty } = off.get(label)!
      const against = lnOff - off.get(1 / 4)!.lnOff
      expect(Math.abs(against - Math.log(real / label))).toBeLessThan(0.003)
      expect(standardUncertainty).toBeGreaterThan(0.009)
      expect(standardUncertainty).toBeLessThan(0.012)
    }
    const sum = found.exposures.reduce((all, { lnOff }) => all + lnOff, 0)
    expect(sum).toBeCloseTo(0, 9)
  })

  it('add up over more stops than one picture spans', () => {
    const found = exposureTest([0.0025, 0.02, 0.16].map((s) => scene(s, 20 * s)))
    if (found.kind !== 'measured') throw new Error(found.reason)
    for (const { lnOff } of found.exposures) expect(Math.abs(lnOff)).toBeLessThan(0.003)
  })

  it('are refused where they say nothing', () => {
    const refusal = (scenes: readonly ExposedScene[]) => {
      const found = exposureTest(scenes)
      return found.kind === 'refused' ? found.reason : null
    }
    expect(refusal([])).toBe('one setting')
    expect(refusal([scene(0.1, 1), scene(0.1, 1.01)])).toBe('one setting')
    expect(refusal([scene(0.1, 0.5), scene(0.1, 0.6), scene(0.2, 1.1)])).toBe('not steady')
    expect(refusal([scene(0.1, 0.5), scene(0.2, 1, 6)])).toBe('not steady')
    expect(refusal([scene(0.1, 0.1), scene(0.2, 1)])).toBe('not steady')
    expect(refusal([scene(0.001, 0.1), scene(1, 100)])).toBe('nothing in common')
    const small = { ...seen(1), width: SIDE / 2 }
    expect(refusal([scene(0.1, 1), { ...scene(0.2, 1), map: small }])).toBe('other pictures')
  })
})
