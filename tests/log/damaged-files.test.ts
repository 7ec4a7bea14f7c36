import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import { RefusedFile } from '../../src/log/import/refused.ts'
import { filledLog } from './importing.ts'
import { bytesOf, closeTestLogs, contentOf, draft, openTestLog } from './opening.ts'

afterEach(closeTestLogs)

describe('2000 damaged files', () => {
  it('change nothing and end in a refusal or in a file that is sound', async () => {
    const { log: source } = await filledLog()
    const files = [await bytesOf(source.export('json')), await bytesOf(source.export('zip'))]
    const target = await openTestLog()
    await target.add(draft({ object: 'mine' }))
    const before = await contentOf(target)
    const counts = { refused: 0, sound: 0 }

    const damage = fc.oneof(
      // Single bytes, pieces cut out, doubled, swapped for noise, ends missing.
      fc.record({
        kind: fc.constant('flip'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 255 }),
      }),
      fc.record({ kind: fc.constant('cut'), at: fc.nat(), with: fc.integer({ min: 1, max: 400 }) }),
      fc.record({
        kind: fc.constant('double'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 400 }),
      }),
      fc.record({
        kind: fc.constant('noise'),
        at: fc.nat(),
        with: fc.integer({ min: 1, max: 60 }),
      }),
      fc.record({ kind: fc.constant('end'), at: fc.nat(), with: fc.constant(0) }),
    )
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(0, 1),
        fc.array(damage, { minLength: 1, maxLength: 3 }),
        async (which, damages) => {
          let bytes = files[which]!
          for (const one of damages) bytes = damaged(bytes, one)
          try {
            const preview = await target.readFile(new Blob([bytes]))
            await preview.discard()
            counts.sound++
          } catch (error) {
            if (!(error instanceof RefusedFile)) throw error
            counts.refused++
          }
        },
      ),
      { numRuns: 2000 },
    )
    expect(await contentOf(target)).toBe(before)
    expect(await target.check()).toEqual([])
    // Most damage is noticed; a changed letter in a note of the JSON cannot be.
    expect(counts.refused).toBeGreaterThan(1000)
    console.info(`damaged files: ${counts.refused} refused, ${counts.sound} read`)
  })
})

function damaged(
  bytes: Uint8Array<ArrayBuffer>,
  how: { kind: string; at: number; with: number },
): Uint8Array<ArrayBuffer> {
  if (bytes.length === 0) return bytes
  const at = how.at % bytes.length
  const upTo = Math.min(at + how.with, bytes.length)
  const joined = (...parts: Uint8Array[]) => {
    const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
    let to = 0
    for (const part of parts) {
      all.set(part, to)
      to += part.length
    }
    return all
  }
  switch (how.kind) {
    case 'flip': {
      const copy = bytes.slice()
      copy[at] = copy[at]! ^ how.with
      return copy
    }
    case 'cut':
      return joined(bytes.subarray(0, at), bytes.subarray(upTo))
    case 'double':
      return joined(bytes.subarray(0, upTo), bytes.subarray(at))
    case 'noise': {
      const copy = bytes.slice()
      for (let i = at; i < upTo; i++) copy[i] = (i * 197 + how.with * 31) & 255
      return copy
    }
    default:
      return bytes.slice(0, at)
  }
}
