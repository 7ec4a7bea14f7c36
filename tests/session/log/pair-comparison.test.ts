import { describe, expect, it } from 'vitest'
import type { GlowInput } from '../../../src/estimate/types.ts'
import type { Json, Reading } from '../../../src/log/schema/types.ts'
import { wholeReading } from '../../../src/log/schema/whole-reading.ts'
import { comparePair, readingChange, withCardsK } from '../../../src/session/log/pair-comparison.ts'
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

describe('how much the later of two is hotter, for their maps', () => {
  it('is known by their camera where they have one in common, else by what each is known to', async () => {
    const [earlier, later] = [photoOf('a', 1148), photoOf('b', 1198)]
    const one = (await readingChange(earlier, later))!
    expect(one.oneCamera).toBe(true)
    expect(Math.abs(one.differenceK - 50)).toBeLessThan(5)
    for (const apart of [
      { ...later, simulated: true },
      { ...later, demo: true },
      photoOf('b', 1198, { cameraId: 'another' }),
      { ...later, inputs: null },
    ]) {
      const found = (await readingChange(earlier, apart))!
      expect(found.oneCamera).toBe(false)
      expect(Math.abs(found.differenceK - 50)).toBeLessThan(15)
      expect(found.standardUncertaintyK).toBeGreaterThan(one.standardUncertaintyK)
    }
    expect((await readingChange({ ...earlier, demo: true }, later))!.oneCamera).toBe(false)
  })

  it('is not known without a temperature of both', async () => {
    const none = { kind: 'none', reason: 'clipped', methodVersion: '1' } as const
    const dark = { ...photoOf('a', 1148), inputs: null, result: none } as unknown as Reading
    expect(await readingChange(dark, photoOf('b', 1198))).toBeNull()
  })
})
