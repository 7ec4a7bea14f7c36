import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Filter } from '../../src/log/index/filter.ts'
import { fold } from '../../src/log/index/fold.ts'
import { sortDescending } from '../../src/log/index/merge-sort.ts'
import { flagsOf, lineOf, summaryFromLine } from '../../src/log/index/summary.ts'
import { makeIndex } from '../../src/log/index/summary-index.ts'
import { METHODS } from '../../src/log/schema/reading-schema.ts'
import type { Summary } from '../../src/log/schema/types.ts'
import { BLOCK_SIZE, type Block, type Slot, withSlots } from '../../src/log/store/blocks.ts'

// Few words, so that filters hit; with accents, case, separators and control characters.
const word = fc.constantFrom('Anvil', 'anvil', 'ÖFEN', 'ofen', 'Kiln shelf', 'a', '\u0001x\n', '')

const summary: fc.Arbitrary<Summary> = fc.record({
  id: fc.uuid(),
  takenAt: fc.constant('2025-03-01T10:00:00+01:00'),
  zone: word,
  takenAtMs: fc.integer({ min: -1e12, max: 2e12 }),
  method: fc.constantFrom(...METHODS),
  simulated: fc.boolean(),
  demo: fc.boolean(),
  damaged: fc.boolean(),
  kind: fc.constantFrom('temperature', 'upper bound', 'none'),
  temperatureK: fc.option(fc.integer({ min: 900, max: 1000 })),
  standardUncertaintyK: fc.option(fc.double({ noNaN: true, noDefaultInfinity: true, min: 0 })),
  expandedUncertaintyK: fc.constant(null),
  interval95K: fc.option(fc.tuple(fc.integer(), fc.integer())),
  object: word,
  material: word,
  tags: fc.array(
    word.filter((w) => w !== ''),
    { maxLength: 3 },
  ),
  series: fc.option(word),
  notes: word,
  volts: fc.option(fc.integer()),
  watts: fc.constant(null),
  swatch: fc.option(fc.tuple(fc.constant(1), fc.constant(0.2), fc.constant(0))),
  hasPicture: fc.boolean(),
  edited: fc.boolean(),
  recomputed: fc.boolean(),
  methodVersion: fc.constantFrom('glow 1', 'spectrum 2', ''),
  movedK: fc.option(fc.integer({ min: -50, max: 50 })),
})

const optional = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined, freq: 2 })
const filter = fc.record({
  text: optional(fc.array(word, { maxLength: 2 }).map((words) => words.join(' '))),
  object: optional(word),
  material: optional(word),
  tag: optional(word.filter((w) => w !== '')),
  series: optional(word),
  methods: optional(fc.subarray([...METHODS])),
  fromMs: optional(fc.integer({ min: -1e12, max: 2e12 })),
  toMs: optional(fc.integer({ min: -1e12, max: 2e12 })),
  fromK: optional(fc.integer({ min: 900, max: 1000 })),
  toK: optional(fc.integer({ min: 900, max: 1000 })),
  simulated: optional(fc.boolean()),
  demo: optional(fc.boolean()),
  damaged: optional(fc.boolean()),
}) as fc.Arbitrary<Filter>

/** The meaning of a filter, without any index. */
function fits(s: Summary, notes: string, f: Filter): boolean {
  const texts = [s.object, s.material, ...s.tags, s.series ?? '', notes].map(fold)
  const words = fold(f.text ?? '')
    .split(/\s+/)
    .filter((w) => w !== '')
  const same = (a: string, b: string | undefined) => b === undefined || fold(a) === fold(b)
  const flag = (a: boolean, b: boolean | undefined) => b === undefined || a === b
  return (
    words.every((w) => texts.some((text) => text.includes(w))) &&
    same(s.object, f.object) &&
    same(s.material, f.material) &&
    (f.tag === undefined || s.tags.some((tag) => fold(tag) === fold(f.tag!))) &&
    same(s.series ?? '', f.series) &&
    (f.methods?.includes(s.method) ?? true) &&
    s.takenAtMs >= (f.fromMs ?? -Infinity) &&
    s.takenAtMs <= (f.toMs ?? Infinity) &&
    ((f.fromK === undefined && f.toK === undefined) ||
      (s.temperatureK !== null &&
        s.temperatureK >= (f.fromK ?? -Infinity) &&
        s.temperatureK <= (f.toK ?? Infinity))) &&
    flag(s.simulated, f.simulated) &&
    flag(s.demo, f.demo) &&
    flag(s.damaged, f.damaged)
  )
}

/** Spread over blocks with holes. */
function blocksOf(summaries: readonly Summary[]): Block[] {
  const bySeq = new Map<number, Map<number, Slot>>()
  summaries.forEach((s, i) => {
    const seq = i * 37
    const block = Math.floor(seq / BLOCK_SIZE)
    const slots = bySeq.get(block) ?? new Map<number, Slot>()
    bySeq.set(block, slots.set(seq % BLOCK_SIZE, { summary: s, notes: s.notes }))
  })
  return [...bySeq].map(([block, slots]) => withSlots(block, undefined, slots))
}

describe('the index of summaries', () => {
  it('finds exactly what fits the filter, newest first', () => {
    fc.assert(
      fc.property(fc.array(summary, { maxLength: 30 }), filter, (summaries, f) => {
        const view = makeIndex(blocksOf(summaries)).find(f)
        const expected = summaries
          .map((s, i) => ({ s, i }))
          .filter(({ s }) => fits(s, s.notes, f))
          .sort((a, b) => b.s.takenAtMs - a.s.takenAtMs || b.i - a.i)
        expect(view.ids()).toEqual(expected.map(({ s }) => s.id))
      }),
      { numRuns: 300 },
    )
  })

  it('gives a summary back as it was put in', () => {
    fc.assert(
      fc.property(summary, (s) => {
        expect(summaryFromLine(lineOf(s), flagsOf(s))).toEqual(JSON.parse(JSON.stringify(s)))
      }),
    )
  })

  it('leaves a view as it was when the log changes', () => {
    const [a, b] = fc.sample(summary, { numRuns: 2, seed: 1 }) as [Summary, Summary]
    const index = makeIndex([withSlots(0, undefined, new Map([[0, { summary: a, notes: '' }]]))])
    const before = index.find()
    index.replace(withSlots(0, undefined, new Map([[1, { summary: b, notes: '' }]])))
    expect(before.ids()).toEqual([a.id])
    expect(index.find().ids()).toEqual([b.id])
  })

  it('shows a line that does not parse as damaged', () => {
    const [a] = fc.sample(summary, { numRuns: 1, seed: 2 }) as [Summary]
    const block = withSlots(3, undefined, new Map([[5, { summary: a, notes: '' }]]))
    const view = makeIndex([{ ...block, lines: block.lines.replace('[', '{') }]).find()
    expect(view.at(0)).toMatchObject({ damaged: true, id: `row ${3 * BLOCK_SIZE + 5}` })
  })

  it('lists what was used, most frequent first', async () => {
    const [s] = fc.sample(summary, { numRuns: 1, seed: 3 }) as [Summary]
    const named = (object: string, tags: string[]): Summary => ({
      ...s,
      object,
      material: '',
      tags,
    })
    const all = [named('Anvil', ['b']), named('Kiln', ['a', 'b']), named('Anvil', [])]
    expect(await makeIndex(blocksOf(all)).vocabulary()).toEqual({
      objects: [
        { text: 'Anvil', count: 2 },
        { text: 'Kiln', count: 1 },
      ],
      materials: [],
      tags: [
        { text: 'b', count: 2 },
        { text: 'a', count: 1 },
      ],
    })
  })
})

describe('sorting', () => {
  it('agrees with the built-in stable sort', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 20 })), (values) => {
        const keys = Float64Array.from(values)
        const items = Uint32Array.from(values, (_, i) => i)
        const expected = [...items].sort((a, b) => keys[b]! - keys[a]!)
        expect([...sortDescending(items, keys)]).toEqual(expected)
      }),
    )
  })
})

// Control characters, Latin, Greek, combining marks, wide forms.
const anyText = fc
  .array(fc.oneof(fc.integer({ min: 0, max: 0x3ff }), fc.integer({ min: 0xff00, max: 0xff60 })))
  .map((codes) => String.fromCharCode(...codes))

describe('folding', () => {
  it('ignores letter case, accents, ligatures and widths', () => {
    expect(fold('ÖFEN')).toBe(fold('ofen'))
    expect(fold('Ｇlow ﬁre')).toBe('glow fire')
  })
  it('leaves no control character that could pass for a field’s end', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
        expect(fold(text)).not.toMatch(/[\u0000-\u001f]/)
      }),
    )
  })
})
