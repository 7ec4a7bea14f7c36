import { expect, test } from 'vitest'
import { KNOWN_HEATS } from '../../../src/physics/fixed-points.ts'
import { MATERIALS } from '../../../src/physics/materials.ts'
import { HURTING_HAZARDS, KNOWN_HEAT_HAZARD_WORDS } from '../../../src/ui/words/known-heats.ts'
import { SURFACE_HAZARD_WORDS } from '../../../src/ui/words/safety-statements.data.ts'

const cautionOf = (id: string) =>
  (MATERIALS.find((material) => material.id === id)?.hazards ?? [])
    .map((hazard) => SURFACE_HAZARD_WORDS[hazard].text)
    .join(' ')

test('every surface brings a caution of its own', () => {
  for (const { id, hazards } of MATERIALS) expect(hazards.length, id).toBeGreaterThan(0)
})

test('heating wires tell of live parts, metals that are coated tell of zinc, brass and paint', () => {
  for (const { id, name } of MATERIALS.filter((material) => /heating wire/.test(material.name)))
    expect(cautionOf(id), name).toMatch(/live part/)
  for (const id of ['steel-oxidised', 'steel-clean', 'cast-iron-oxidised', 'grey-body'])
    expect(cautionOf(id), id).toMatch(/Galvanised.*brass.*painted/)
  expect(cautionOf('tungsten-bare')).toMatch(/burst/)
  expect(cautionOf('ceramic')).toMatch(/Kiln/)
})

test('every known heat tells what can hurt', () => {
  for (const { id, hazards } of KNOWN_HEATS) {
    const hurting = hazards.filter((hazard) => HURTING_HAZARDS.has(hazard))
    expect(hurting.map((hazard) => KNOWN_HEAT_HAZARD_WORDS[hazard]).length, id).toBeGreaterThan(0)
  }
})
