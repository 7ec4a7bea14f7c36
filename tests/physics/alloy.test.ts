import { describe, expect, it } from 'vitest'
import { ALLOYS, type AlloyEvidence, narrowAlloy, resistivity } from '../../src/physics/alloy.ts'
import { materialById } from '../../src/physics/materials.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const give = (value: number, percent: number) => ({
  value,
  standardUncertainty: (value * percent) / 100,
})
const ids = (evidence: AlloyEvidence) => narrowAlloy(evidence).left.map(({ alloy }) => alloy.id)
/** A metre of 0.5 mm wire of this resistivity, micro-ohm m, measured with a pocket meter. */
const wire = (microOhmM: number): NonNullable<AlloyEvidence['resistance']> => ({
  ohms: give((microOhmM * 1e-6) / ((Math.PI / 4) * 0.5e-3 ** 2), 1),
  lengthM: give(1, 0.3),
  section: { diameterM: give(0.5e-3, 1) },
})

describe('which alloy', () => {
  it('a magnet tells iron-chromium-aluminium from 80Ni-20Cr (common practice)', () => {
    expect(ids({ magnet: 'sticks' })).toContain('iron-chromium-aluminium')
    expect(ids({ magnet: 'sticks' })).not.toContain('nickel-chromium-80-20')
    expect(ids({ magnet: 'no' })).toContain('nickel-chromium-80-20')
    expect(ids({ magnet: 'no' })).not.toContain('iron-chromium-aluminium')
  })

  it('resistance per length has the resistivity: 80Ni-20Cr 0.5 mm is 5.50 ohm/m (makers, 1.08)', () => {
    expectPrinted(wire(1.08).ohms.value, '5.50')
    const found = resistivity(wire(1.08))
    expectClose(found.value, 1.08, 1e-9)
    // 1 % of ohms, 0.3 % of length, twice 1 % of diameter.
    expectClose(found.standardUncertainty / found.value, Math.hypot(0.01, 0.003, 0.02), 1e-3)
  })

  it('reads a strip by width and thickness', () => {
    const strip = { widthM: give(5e-3, 1), thicknessM: give(0.2e-3, 3) }
    const found = resistivity({ ohms: give(1.4, 1), lengthM: give(1, 0.3), section: strip })
    expectClose(found.value, 1.4, 1e-9)
  })

  it('both together leave one alloy of FeCrAl wire, and two nickel-chromiums that they cannot part', () => {
    const fecral = narrowAlloy({ magnet: 'sticks', resistance: wire(1.45) })
    expect(fecral.verdict).toBe('one left')
    expect(fecral.left[0]!.alloy.id).toBe('iron-chromium-aluminium')
    expect(ids({ magnet: 'no', resistance: wire(1.09) })).toEqual([
      'nickel-chromium-80-20',
      'nickel-chromium-iron-60-16',
    ])
    expect(narrowAlloy({ magnet: 'sticks', resistance: wire(1.09) }).verdict).toBe('none left')
  })

  it('parts iron-chromium-aluminium from nickel-chromium by resistance alone', () => {
    expect(ids({ resistance: wire(1.45) })).toEqual(['iron-chromium-aluminium'])
    expect(ids({ resistance: wire(0.72) })).toEqual(['stainless-18-8'])
  })

  it('leaves all when nothing is known, and points at materials that exist', () => {
    expect(narrowAlloy({}).left.length).toBe(ALLOYS.length)
    for (const { materialId } of ALLOYS)
      if (materialId) expect(materialById(materialId)).toBeDefined()
  })
})
