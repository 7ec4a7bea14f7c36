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
      // Light that looks steady is so to a hundredth from photo to photo (common practice).
      expect(standardUncertainty).toBeCloseTo(0.01, 3)
    }
    const sum = found.exposures.reduce((all, { lnOff }) => all + lnOff, 0)
    expect(sum).toBeCloseTo(0, 9)
  })

  it('add up over more stops than one picture spans', () => {
    const found = exposureTest([0.0025, 0.02, 0.16].map((s) => scene(s, 20 * s)))
    if (found.kind !== 'measured') throw new Error(found.reason)
    for (const { lnOff } of found.exposures) expect(Math.abs(lnOff)).toBeLessThan(0.003)
  })

  it('are refused where one of several is far from what it says', () => {
    // The last of five gets more light than its label says; a fifth of that goes into their middle.
    const lastBy = (stops: number) =>
      exposureTest(
        [0.1, 0.2, 0.4, 0.8, 1.6].map((s, i) => scene(s, 0.5 * s * (i === 4 ? 2 ** stops : 1))),
      ).kind
    expect(lastBy(0)).toBe('measured')
    expect(lastBy(0.93 / 0.8)).toBe('measured')
    expect(lastBy(1.07 / 0.8)).toBe('refused')
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

describe('what two exposures have in common', () => {
  /** Two settings a stop apart; cell by cell the level of the darker, and ln of what the brighter has beyond. */
  const pair = (level: (cell: number) => number, beyond: (cell: number) => number = () => 0) => {
    const cells = SIDE * SIDE
    const of = (value: (cell: number) => number): LightMap => ({
      ...seen(1),
      light: Float32Array.from({ length: 3 * cells }, (_, i) => value(Math.floor(i / 3))),
      flags: new Uint8Array(cells),
    })
    const exposure = { iso: 100, fNumber: 2 }
    const found = exposureTest([
      { exposure: { ...exposure, exposureSeconds: 0.1 }, map: of(level) },
      {
        exposure: { ...exposure, exposureSeconds: 0.2 },
        map: of((cell) => 2 * level(cell) * Math.exp(beyond(cell))),
      },
    ])
    return found.kind === 'refused' ? found.reason : found.kind
  }

  it('lies between black and white: from 0.02 to 0.9 of full scale in both', () => {
    expect([0.0192, 0.0208].map((level) => pair(() => level))).toEqual([
      'nothing in common',
      'measured',
    ])
    expect([0.44, 0.46].map((level) => pair(() => level))).toEqual([
      'measured',
      'nothing in common',
    ])
  })

  it('is forty places at least', () => {
    const places = (count: number) => pair((cell) => (cell < count ? 0.2 : 0.001))
    expect([39, 41].map(places)).toEqual(['nothing in common', 'measured'])
  })

  it('moves by less than a tenth from place to place', () => {
    // Half of the places up, half down: a median departure of that, 0.6745 of a standard deviation.
    const scatter = (sd: number) =>
      pair(
        () => 0.2,
        (cell) => (cell % 2 === 0 ? 0.6745 : -0.6745) * sd,
      )
    expect([0.095, 0.105].map(scatter)).toEqual(['measured', 'not steady'])
  })

  it('is alike in two photos of one setting, to a twentieth', () => {
    const twice = (ln: number) => {
      const found = exposureTest([scene(0.1, 0.5), scene(0.1, 0.5 * Math.exp(ln)), scene(0.2, 1)])
      return found.kind === 'refused' ? found.reason : found.kind
    }
    expect([0.047, 0.053].map(twice)).toEqual(['measured', 'not steady'])
  })
})
