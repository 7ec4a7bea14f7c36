import { describe, expect, it } from 'vitest'
import { type Consensus, consensus, type EstimateKind } from '../../../src/estimate/consensus.ts'
import { supplyRefusalNotice } from '../../../src/ui/words/check.ts'
import { sharedLine, verdictWords } from '../../../src/ui/words/verdict.ts'

/** Made up; ± are for k = 2. */
const compare = (
  ...said: [EstimateKind, celsius: number, plusMinus: number, camera?: number][]
) => {
  const named = said.map(([kind, celsius, plusMinus], i) => ({
    id: `${i}`,
    kind,
    temperatureK: celsius + 273.15,
    standardUncertaintyK: plusMinus / 2,
    expandedUncertaintyK: plusMinus,
  }))
  const found = consensus(
    named.map((one, i) => ({
      id: one.id,
      kind: one.kind,
      temperatureK: one.temperatureK,
      terms: [
        {
          id: `own ${i}`,
          effectK: Math.sqrt(one.standardUncertaintyK ** 2 - (said[i]![3] ?? 0) ** 2),
        },
        { id: 'camera', effectK: said[i]![3] ?? 0 },
      ],
    })),
  )
  return { found: found as Consensus, named }
}

describe('the verdict in words', () => {
  it('says of an element and a photo that both cannot be true, why, and what to do next', () => {
    const { found, named } = compare(['supply', 573, 66], ['camera colour', 870, 250])
    const words = verdictWords(found, named)
    expect(words.notice.title).toBe('These cannot both be true')
    expect(words.notice.weight).toBe('stop')
    expect(words.notice.todo).toContain('Camera colour says 870 ± 250 °C, supply power 573 ± 66 °C')
    expect(words.notice.todo).toContain('297 °C apart')
    expect(words.likeliest).toHaveLength(2)
    expect(words.likeliest[1]).toContain('wire thinner than measured')
    expect(words.next).toContain('known heat')
  })

  it('names the odd one and the likeliest reason for its side', () => {
    const { found, named } = compare(
      ['camera colour', 1147, 80],
      ['supply', 942, 56],
      ['by eye', 917, 96],
      ['spectrum', 955, 20],
    )
    const words = verdictWords(found, named)
    expect(words.notice.title).toBe('Camera colour is the odd one out')
    expect(words.likeliest).toEqual([expect.stringContaining('overexposed')])
  })

  it('says in one line what many readings share', () => {
    const seven = [940, 948, 951, 955, 962, 966, 970].map(
      (celsius): [EstimateKind, number, number, number] => ['camera colour', celsius, 130, 64.9],
    )
    const { found, named } = compare(...seven)
    expect(found.value!.temperatureK).toBeGreaterThanOrEqual(940 + 273.15)
    expect(found.value!.temperatureK).toBeLessThanOrEqual(970 + 273.15)
    expect(sharedLine(found, named)).toMatch(/^Part of the error is common \(7 by camera colour/)
  })
})

it('meters that contradict each other are told with what each may be off by', () => {
  const power = {
    byWatts: { value: 370, standardUncertainty: 7.4 },
    byVoltsAndAmperes: { value: 552, standardUncertainty: 16 },
  }
  const { title, weight } = supplyRefusalNotice({ ok: false, code: 'supply contradicts', power })
  expect(title).toBe('Volts times amperes are 550 ± 32 W, the wattmeter says 370 ± 15 W')
  expect(weight).toBe('stop')
})
