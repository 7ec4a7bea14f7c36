import { describe, expect, test } from 'vitest'
import type { SweepFinding } from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { expectClose } from '../../close-to.ts'
import { codes, glow, measured, sweep } from './bar-sweep.ts'
import { type SweepScene, toneOf } from './sweeps.ts'

const isTold = (code: SweepFinding['code'], scene: Partial<SweepScene>) =>
  codes(measured(sweep(scene))).includes(code)

describe('both sides of what a sweep is told of as a whole', () => {
  test('its exposures lie one and a half stops apart at least', () => {
    const reason = (range: number) => {
      const found = sweep({ stops: [0, -range / 3, -range / 2, -range] })
      return found.kind === 'refused' ? found.reason : 'measured'
    }
    expect(reason(1.47)).toBe('exposures do not differ')
    expect(reason(1.53)).not.toBe('exposures do not differ')
  })

  test('a contrast from 0.65 to 1.75 is a usual one', () => {
    // A toe and shoulder of its own take a fiftieth off the power.
    const told = (contrast: number) =>
      isTold('unusual contrast', { tone: toneOf('channel', contrast, 0.55) })
    expect([0.6, 0.67, 1.7, 1.8].map(told)).toEqual([true, false, false, true])
  })

  test('light around the glow counts from three hundredths of it on', () => {
    const light = glow()
    const times = (share: number): Triple => [share * light[0], share * light[1], share * light[2]]
    const told = (share: number) =>
      isTold('background', { light: times(1 + share), ground: times(share) })
    expect([0.028, 0.032].map(told)).toEqual([false, true])
  })

  test('a picture that moved by a pixel was aligned, one that stood still was not', () => {
    const told = (dx: number) =>
      isTold('frames aligned', { shift: (k) => ({ dx: k === 3 ? dx : 0, dy: 0 }) })
    expect([0, 1].map(told)).toEqual([false, true])
  })

  test('kinds of curve that both fit are averaged: with a note, and with a warning where they lie apart', () => {
    // A pure power shows no shoulder: the nearer to 1, the less the kinds differ.
    const at = (contrast: number) => {
      const {
        findings,
        byKind,
        kindProbability: p,
      } = measured(sweep({ tone: toneOf('channel', contrast, 0.999), light: [0.7, 0.07, 0.021] }))
      return {
        weight: findings.find(({ code }) => code === 'both kinds averaged')?.weight,
        // Standard deviation of one or the other (law of total variance).
        spread: Math.sqrt(p * (1 - p)) * Math.abs(byKind.channel - byKind.ratio),
      }
    }
    const [none, note, calm, warning] = [1.0063, 1.0067, 1.027, 1.033].map(at)
    expect([none, note, calm, warning].map((one) => one!.weight)).toEqual([
      undefined,
      'note',
      'note',
      'warning',
    ])
    // A quarter of 0.025 is worth a note.
    for (const one of [none, note]) expectClose(one!.spread, 0.025 / 4, 0.1)
  })
})
