import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import { createMapModel } from '../../../src/session/reading/map-model.ts'
import type { MapBench } from '../../../src/sources/map/map-client.ts'

const REGION = { shape: 'rectangle', x: 2, y: 2, width: 8, height: 8 }
const MADE = { map: { columns: 1 }, evenness: {} }

/** A reading of which all is known, and a bench that answers when told to. */
function mapping() {
  const asked: { given: unknown; answer(value: unknown): void; refuse(error: unknown): void }[] = []
  const cells: unknown[] = []
  let [opened, closed] = [0, 0]
  const reading = {
    glow: {
      photo: signal<unknown>({
        cells: async (of: unknown) => {
          cells.push(of)
          return 'cells'
        },
      }),
    },
    measurement: signal<unknown>({ region: REGION, background: { colour: { mean: [1, 2, 3] } } }),
    input: signal<unknown>({}),
    estimate: signal<unknown>({ kind: 'temperature' }),
    curve: signal<unknown>(null),
    map: signal<{ readonly made: Promise<unknown> } | null>(null),
  }
  const open = () => {
    opened++
    return {
      make: (given: unknown) =>
        new Promise((resolve, reject) => {
          asked.push({ given, answer: resolve, refuse: reject })
        }),
      close: () => closed++,
    } as unknown as MapBench
  }
  const model = createMapModel(reading as never, open)
  return { reading, model, asked, cells, opened: () => opened, closed: () => closed }
}
const settled = () => new Promise((resolve) => setTimeout(resolve))

describe('the map of a reading', () => {
  test('is made of what is read, by its curve and without its background', async () => {
    const { reading, model, asked, cells } = mapping()
    await settled()
    const [input, estimate] = [reading.input.value, reading.estimate.value]
    expect(cells).toEqual([{ region: REGION, curve: null, background: [1, 2, 3] }])
    const all = { cells: 'cells', input, estimate, curve: null, region: REGION }
    expect(asked[0]!.given).toEqual(all)
    asked[0]!.answer(MADE)
    await settled()
    expect(model.state.value).toEqual({ kind: 'made', ...MADE })
    const curve = { version: 2 }
    reading.curve.value = curve
    await settled()
    expect(cells[1]).toMatchObject({ curve })
    expect(asked[1]!.given).toMatchObject({ curve })
    // The last map stays until the next is there.
    expect(model.state.value.kind).toBe('made')
    asked[1]!.answer(null)
    await settled()
    expect(model.state.value).toEqual({ kind: 'none' })
    reading.measurement.value = { region: REGION, background: null }
    await settled()
    expect(cells[2]).toMatchObject({ background: null })
    model.dispose()
  })

  test.each([
    ['the photo is put away', 'photo'],
    ['it is being measured', 'measurement'],
    ['its input is not known', 'input'],
    ['it has no estimate', 'estimate'],
  ])('waits while %s', async (_, part) => {
    const { reading, model, asked } = mapping()
    await settled()
    const of = part === 'photo' ? reading.glow.photo : reading[part as 'input']
    of.value = null
    expect(model.state.value).toEqual({ kind: 'waiting' })
    expect(reading.map.value).toBeNull()
    // An answer about what was read before is dropped.
    asked[0]!.answer(MADE)
    await settled()
    expect(model.state.value).toEqual({ kind: 'waiting' })
    model.dispose()
  })

  test('of what has no temperature is none', async () => {
    const { reading, model, asked } = mapping()
    reading.estimate.value = { kind: 'below range' }
    expect(model.state.value).toEqual({ kind: 'waiting' })
    await settled()
    expect(asked).toHaveLength(1)
    model.dispose()
  })

  test('that cannot be made is told; one that a later one has replaced is not', async () => {
    const { reading, model, asked, opened } = mapping()
    await settled()
    asked[0]!.refuse(new DOMException('', 'AbortError'))
    await settled()
    expect(model.state.value).toEqual({ kind: 'waiting' })
    reading.input.value = {}
    await settled()
    reading.input.value = {}
    await settled()
    asked[1]!.refuse(new Error('late'))
    await settled()
    expect(model.state.value).toEqual({ kind: 'waiting' })
    const error = new Error('died')
    asked[2]!.refuse(error)
    await settled()
    expect(model.state.value).toEqual({ kind: 'failed', error })
    expect(await reading.map.value?.made).toBeNull()
    expect(opened()).toBe(1)
    model.dispose()
  })

  test('that is being made is waited for when it is put away: a reading may be saved with it', async () => {
    const { reading, model, asked, closed } = mapping()
    await settled()
    const saved = reading.map.value!.made
    model.dispose()
    await settled()
    expect(closed()).toBe(0)
    asked[0]!.answer(MADE)
    expect(await saved).toEqual(MADE)
    await settled()
    expect([closed(), model.state.value.kind]).toEqual([1, 'waiting'])
    reading.input.value = {}
    await settled()
    expect(asked).toHaveLength(1)
  })
})
