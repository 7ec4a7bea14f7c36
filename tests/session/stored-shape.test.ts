import * as v from 'valibot'
import { expect, test } from 'vitest'
import type { GlowInput } from '../../src/estimate/types.ts'
import { storing, type Unstored } from '../../src/session/stored-shape.ts'

const glow = v.object({ quality: v.object({ clippedShare: v.number() }), cameraId: v.string() })
type Glow = v.InferOutput<typeof glow>

test('a field that a schema does not store is named by the compiler, optional and deep ones too', () => {
  // Assigned to their exact types: this file compiles only while the paths are these.
  const added: Unstored<Glow & { readonly humidity?: number }, Glow> = 'humidity'
  const deep: Unstored<Glow & { quality: { haloShare?: number } }, Glow> = 'quality.haloShare'
  const none: Unstored<Glow, Glow>[] = []
  type Lost = 'glow' extends Unstored<GlowInput, Glow> ? true : false
  const ofTheEstimate: Lost = true
  expect([added, deep, ...none, ofTheEstimate]).toEqual(['humidity', 'quality.haloShare', true])
})

test('a schema that stores every field passes unchanged', () => {
  expect(storing<Glow>()(glow)).toBe(glow)
})
