import { describe, expect, test } from 'vitest'
import { findingsOfInput, findingsOfReferences } from '../../src/estimate/glow-findings.ts'
import { levelMatch } from '../../src/estimate/matched-level.ts'
import { meltEvents } from '../../src/estimate/melt-events.ts'
import { conflicts } from '../../src/estimate/reference-check.ts'
import { cameraCause, sharedCause } from '../../src/estimate/shared-cause.ts'
import type { GlowInput, ReferenceUse } from '../../src/estimate/types.ts'
import { colour, reading, reference } from './inputs.ts'

const glow = colour(0.1, 0.01)
const codesOf = (change: Partial<GlowInput>) =>
  findingsOfInput(reading(glow, change)).map(({ code }) => code)
const withQuality = (change: Partial<GlowInput['quality']>) =>
  codesOf({ quality: { ...reading(glow).quality, ...change } })

describe('what is said of a photo', () => {
  test('is nothing where all is well', () => {
    expect(codesOf({})).toEqual([])
  })

  test('names each pixel that is clipped, and green and background from their limits on', () => {
    expect(withQuality({ clippedShare: 1e-5 })).toEqual(['clipped'])
    expect(withQuality({ floorShare: [0, 0.05, 1] })).toEqual([])
    expect(withQuality({ floorShare: [0, 0.051, 0] })).toEqual(['green at floor'])
    expect(withQuality({ backgroundShare: 0.03 })).toEqual([])
    expect(withQuality({ backgroundShare: 0.031 })).toEqual(['background'])
  })

  test('names a glow so thin that half resolution of colour smears it, not a wide one', () => {
    expect(withQuality({ glowWidthPixels: 2, chromaSubsampled: true })).toEqual(['thin glow'])
    expect(withQuality({ glowWidthPixels: 100, chromaSubsampled: true })).toEqual([])
  })

  test('names a glow of an ordinary photo as thin up to 17 pixels: 0.05 in ln(G/R) by what smooths it', () => {
    const rendered = (glowWidthPixels: number) =>
      codesOf({
        faithfulColours: false,
        quality: { ...reading(glow).quality, glowWidthPixels },
      })
    expect(rendered(17.4)).toEqual(['thin glow'])
    expect(rendered(18.4)).toEqual([])
  })

  test('names a balance that is free or not known, a missing card, an unknown curve', () => {
    expect(codesOf({ balanceState: { kind: 'automatic', colourTemperatureK: null } })).toEqual([
      'white balance automatic',
    ])
    expect(codesOf({ balanceState: { kind: 'unknown', colourTemperatureK: null } })).toEqual([
      'white balance unknown',
    ])
    expect(codesOf({ balance: null })).toEqual(['no grey reference'])
    const single = { kind: 'single', curveId: 'c', storedLevels: [0.5, 0.2, 0.1], space: 'srgb' }
    expect(codesOf({ linearity: single as never })).toEqual(['tone curve unknown'])
  })
})

describe('what is said of a known heat', () => {
  const use = (change: Partial<ReferenceUse>): ReferenceUse => ({
    id: 'salt',
    name: 'Salt',
    status: 'used',
    standardisedResidual: 0,
    ageDays: 10,
    ...change,
  })
  const said = (change: Partial<ReferenceUse>) =>
    findingsOfReferences([use(change)]).map(({ code }) => code)

  test('is nothing while it counts and is not a year old', () => {
    expect(said({})).toEqual([])
    expect(said({ ageDays: 365 })).toEqual([])
    expect(said({ ageDays: 366 })).toEqual(['reference old'])
    expect(said({ ageDays: null })).toEqual([])
  })

  test('is that it conflicts, and which salt it may have been', () => {
    const otherSalt = { id: 'borax', chance: 0.2 } as never
    expect(
      findingsOfReferences([use({ status: 'conflicting', standardisedResidual: 4, otherSalt })]),
    ).toEqual([
      { code: 'reference conflicts', referenceId: 'salt', standardisedResidual: 4, otherSalt },
    ])
    expect(said({ status: 'conflicting', ageDays: 400 })).toEqual([
      'reference conflicts',
      'reference old',
    ])
  })

  test('is why it does not count, whatever its age', () => {
    expect(findingsOfReferences([use({ status: 'other camera' as never, ageDays: 900 })])).toEqual([
      { code: 'reference not used', referenceId: 'salt', status: 'other camera' },
    ])
  })

  test('it conflicts beyond three standard deviations, 3 in 1000 by chance, either way', () => {
    const doubt = (standardisedResidual: number) => conflicts({ standardisedResidual, other: null })
    expect([2.99, -2.99].map(doubt)).toEqual([false, false])
    expect([3.01, -3.01].map(doubt)).toEqual([true, true])
    const other = { id: 'borax', chance: 0.2, hotterK: 60 } as never
    expect(conflicts({ standardisedResidual: 0, other })).toBe(true)
  })
})

describe('photos of one melt', () => {
  const melt = (minutes: number, change = {}) =>
    reference(1073.9, 3, glow, {
      id: `after ${minutes} ${JSON.stringify(change)}`,
      takenAt: new Date(Date.UTC(2026, 0, 1, 12, minutes)).toISOString(),
      ...change,
    })
  const groups = (...all: ReturnType<typeof melt>[]) => meltEvents(all).map(({ group }) => group)

  test('err together within 20 minutes of the one before, in any order of the list', () => {
    const [a, b, c] = groups(melt(40), melt(0), melt(20))
    expect(a).not.toBeNull()
    expect(b).toBe(a)
    expect(c).toBe(a)
    expect(groups(melt(0), melt(21))).toEqual([null, null])
  })

  test('are those of one camera, one heat and one uncertainty', () => {
    for (const change of [
      { cameraId: 'another' },
      { temperatureK: 1233 },
      { standardUncertaintyK: 5 },
      { takenAt: 'never' },
    ])
      expect(groups(melt(0), melt(5, change))).toEqual([null, null])
  })

  test('keep a group that was stated', () => {
    expect(groups(melt(0, { group: 'lamp' }), melt(5, { group: 'lamp' }))).toEqual(['lamp', 'lamp'])
    expect(groups(melt(0, { group: 'lamp' }), melt(5))).toEqual(['lamp', null])
  })
})

describe('a level as that of a known heat', () => {
  const single = (red: number) =>
    ({ kind: 'single', curveId: 'c', storedLevels: [red, 0.2, 0.1], space: 'srgb' }) as const
  const match = (...reds: number[]) =>
    levelMatch(
      reading(glow, {
        linearity: single(0.5),
        references: reds.map((red) =>
          reference(1073.9, 3, glow, { id: `${red}`, linearity: single(red) }),
        ),
      }),
    )

  test('is within a tenth of the range of codes, below and above', () => {
    for (const same of [0.401, 0.599]) expect(match(same)?.matched).toBe(true)
    for (const apart of [0.399, 0.601]) expect(match(apart)?.matched).toBe(false)
  })

  test('is looked for at the nearest', () => {
    expect(match(0.3, 0.55, 0.6)?.referenceId).toBe('0.55')
    expect(match(0.48, 0.55)?.referenceId).toBe('0.48')
    expect(match()).toBeNull()
  })
})

describe('what two readings err by together', () => {
  const input = reading(glow, { surface: { ...reading(glow).surface, id: 'steel-oxidised' } })

  test('is their camera in one state, their curve, card, surface and window', () => {
    for (const term of ['camera', 'reference temperature', 'reference photo'] as const)
      expect(sharedCause(term, input)).toBe(cameraCause(input))
    expect(sharedCause('grey reference', input)).toBe('grey card')
    expect(sharedCause('surface', input)).toBe('surface steel-oxidised')
    const window = { id: 'glass', lnGreenOverRed: 0, standardUncertainty: 0.1 } as never
    expect(sharedCause('window', { ...input, window })).toBe('window glass')
    const linearity = { kind: 'single', curveId: 'c' } as never
    expect(sharedCause('tone curve', { ...input, linearity })).toBe('curve c')
  })

  test('is another one for another camera, state or channels', () => {
    for (const change of [
      { cameraId: 'another' },
      { channels: 'camera' },
      { balanceState: { kind: 'locked', colourTemperatureK: null } },
    ] as const)
      expect(cameraCause({ ...input, ...change })).not.toBe(cameraCause(input))
  })

  test('is nothing of noise, an unknown surface, linear light, or no window', () => {
    expect(sharedCause('noise' as never, input)).toBeNull()
    expect(sharedCause('surface', reading(glow))).toBeNull()
    expect(sharedCause('tone curve', input)).toBeNull()
    expect(sharedCause('window', input)).toBeNull()
  })

  test('without a card it is that of the camera', () => {
    expect(sharedCause('grey reference', { ...input, balance: null })).not.toBe(
      sharedCause('grey reference', { ...input, balance: null, cameraId: 'another' }),
    )
  })
})
