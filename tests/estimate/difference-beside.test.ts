import { expect, test } from 'vitest'
import { temperatureDifference } from '../../src/estimate/difference.ts'
import type { BudgetTerm, GlowInput } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { reading, salt, seen, temperature } from './inputs.ts'

const PIECE = { id: 'steel', lnGreenOverRed: 0, standardUncertainty: 0.01, piece: 'bar' }
const at = (kelvin: number, change: Partial<GlowInput> = {}) =>
  reading(seen(kelvin), { surface: PIECE, references: [salt()], ...change })
const part = (input: GlowInput, of: BudgetTerm) =>
  temperature(input).budget.find(({ term }) => term === of)?.standardUncertaintyK ?? 0
const ofDifference = (cold: GlowInput, hot: GlowInput) =>
  temperatureDifference(cold, hot)!.standardUncertaintyK
const plain = ofDifference(at(1123), at(1223))

const pane = (id: string) => ({ id, lnGreenOverRed: 0, standardUncertainty: 0.05 })

test('two readings through two panes differ as surely as both panes leave them (JCGM 100, 5.1.2)', () => {
  const [cold, hot] = [at(1123, { window: pane('a') }), at(1223, { window: pane('b') })]
  const [a, b] = [part(cold, 'window'), part(hot, 'window')]
  expectClose(ofDifference(cold, hot), Math.hypot(plain, a, b), 0.05)
})

test('through one pane only the difference of what it leaves open counts', () => {
  const [cold, hot] = [at(1123, { window: pane('a') }), at(1223, { window: pane('a') })]
  const apart = part(hot, 'window') - part(cold, 'window')
  expect(apart).toBeGreaterThan(2)
  expectClose(ofDifference(cold, hot), Math.hypot(plain, apart), 0.05)
})

test('a pane before one of them is wholly open', () => {
  const hot = at(1223, { window: pane('a') })
  expectClose(ofDifference(at(1123), hot), Math.hypot(plain, part(hot, 'window')), 0.05)
})

test('what smears a thin glow is each reading’s own', () => {
  const quality = { ...at(1123).quality, glowWidthPixels: 5, chromaSubsampled: true }
  const [cold, hot] = [at(1123, { quality }), at(1223, { quality })]
  const [a, b] = [part(cold, 'thin glow'), part(hot, 'thin glow')]
  expect(a).toBeGreaterThan(20)
  expectClose(ofDifference(cold, hot), Math.hypot(plain, a, b), 0.1)
  expectClose(ofDifference(at(1123), hot), Math.hypot(plain, b), 0.1)
})
