import { describe, expect, it } from 'vitest'
import type { GlowInput } from '../../../src/estimate/types.ts'
import type { Json, Reading } from '../../../src/log/schema/types.ts'
import { wholeReading } from '../../../src/log/schema/whole-reading.ts'
import { comparePair, withCardsK } from '../../../src/session/log/pair-comparison.ts'
import { resultOf } from '../../../src/session/reading/reading-record.ts'
import { comparisonWords, nextSentence } from '../../../src/ui/words/pair.ts'
import { CARD, reading, STEEL, salt, seen, temperature } from '../../estimate/inputs.ts'

const takenAt = { iso: '2026-03-14T12:00:00.000+00:00', zone: 'UTC' }
/** A photo of one bar by a camera that has seen salt melt. */
const photoOf = (id: string, kelvin: number, change: Partial<GlowInput> = {}): Reading => {
  const input = reading(seen(kelvin), { references: [salt()], surface: STEEL, ...change })
  return wholeReading(
    {
      method: 'photo',
      object: 'bar',
      result: resultOf(temperature(input), input),
      inputs: JSON.parse(JSON.stringify(input)) as Json,
    },
    { id, savedAt: '2026-03-14T12:00:05.000Z', takenAt },
  )
}

describe('two readings of the log', () => {
  it('differ by far less than each may err, and a card in each picture would tell still less', async () => {
    const [a, b] = [photoOf('a', 1198), photoOf('b', 1148)]
    const found = await comparePair(a, b)
    expect(found.differenceK).toBeGreaterThan(45)
    expect(found.differenceK).toBeLessThan(55)
    // Two photos that stray by 0.005 each are 3.5 K apart (METHODS); salt leaves 8.5 K at 95 % in all.
    expect(2 * found.standardUncertaintyK!).toBeGreaterThan(7)
    expect(2 * found.standardUncertaintyK!).toBeLessThan(10.5)
    expect(comparisonWords(found).line).toContain('each by itself is less sure')
    expect(found.cardsMayHelp).toBe(true)
    const cardsK = await withCardsK(a, b, found.standardUncertaintyK!)
    expect(cardsK).toBeLessThan(0.85 * found.standardUncertaintyK!)
    expect(await withCardsK(a, b, cardsK!)).toBeNull()
    expect(nextSentence(cardsK)).toMatch(/grey card into each picture.*±\s\d+\s°C/)
  })

  it('are the same within what can be seen, and with a card in each are told no such step', async () => {
    const balance = { ...CARD, samePicture: true }
    const found = await comparePair(
      photoOf('a', 1174, { balance }),
      photoOf('b', 1173, { balance }),
    )
    expect(comparisonWords(found).title).toBe('The same within what can be seen')
    expect(found.cardsMayHelp).toBe(false)
  })

  it('that share nothing are not called surer together than apart', async () => {
    const other = { ...photoOf('b', 1148, { cameraId: 'another' }), object: 'another bar' }
    const found = await comparePair(photoOf('a', 1198), other)
    expect(found.cardsMayHelp).toBe(false)
    expect(comparisonWords(found).line).not.toContain('less sure')
  })
})

it('a card in each picture is offered where it takes off a seventh of the uncertainty', async () => {
  const [a, b] = [photoOf('a', 1198), photoOf('b', 1148)]
  const withK = (await withCardsK(a, b, Number.POSITIVE_INFINITY))!
  expect(await withCardsK(a, b, withK / 0.83)).toBe(withK)
  expect(await withCardsK(a, b, withK / 0.87)).toBeNull()
})
