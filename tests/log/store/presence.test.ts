import { describe, expect, test } from 'vitest'
import {
  keepPresence,
  type MarkStorage,
  type OpenedState,
} from '../../../src/log/store/presence.ts'
import { memoryMarks, tickingClock } from '../opening.ts'

const AT = '2025-02-01T10:00:00.000Z'
/** The clock of these tests at its first looks. */
const NOW = /^2025-03-01T10:00:0\d\.000Z$/

interface Given {
  /** The mark before, as text or as its fields; none where it is left out. */
  readonly mark?: object | string
  readonly opened?: Partial<OpenedState>
}

function opened({ mark, opened: state = {} }: Given, storage: MarkStorage = memoryMarks()) {
  if (mark !== undefined)
    storage.setItem('log', typeof mark === 'string' ? mark : JSON.stringify(mark))
  const presence = keepPresence(storage, 'log', tickingClock(), {
    listed: 2,
    turn: { epoch: 'a', turn: 5 },
    restored: false,
    ...state,
  })
  const kept = () => JSON.parse(storage.getItem('log') ?? 'null') as unknown
  return { presence, kept, storage }
}

const mark = (of: object) => ({ readings: 3, at: AT, epoch: 'a', turn: 5, missing: null, ...of })
const missing = (of: Given) => opened(of).presence.missing()

describe('the mark of a log', () => {
  test('is made when something is there, and says how far the log had come', () => {
    expect(opened({ opened: { listed: 0 } }).kept()).toBeNull()
    expect(opened({}).kept()).toEqual({
      readings: 2,
      at: expect.stringMatching(NOW),
      epoch: 'a',
      turn: 5,
      missing: null,
      restored: null,
    })
  })

  test('follows what is written, emptied and read', () => {
    const { presence, kept } = opened({})
    presence.note(7)
    expect(kept()).toMatchObject({
      readings: 7,
      epoch: 'a',
      turn: 5,
      at: expect.stringMatching(NOW),
    })
    presence.written({ epoch: 'a', turn: 6 })
    expect(kept()).toMatchObject({ readings: 7, turn: 6 })
    presence.note(0)
    expect(kept()).toMatchObject({ readings: 0, turn: 6 })
  })

  test('that cannot be read, or is none, tells of no loss', () => {
    const none = { listed: 0, turn: { epoch: 'b', turn: 0 } }
    for (const text of [
      '',
      '{',
      '[]',
      'null',
      '{"readings":3}',
      JSON.stringify(mark({ readings: -1 })),
    ])
      expect(missing({ mark: text, opened: none }), text).toBeNull()
    const { presence } = opened(
      { opened: none },
      {
        getItem() {
          throw new Error('not allowed')
        },
        setItem() {
          throw new Error('not allowed')
        },
      },
    )
    // Without a place the page itself remembers.
    presence.note(4)
    presence.dismiss()
    expect([presence.missing(), presence.restored()]).toEqual([null, null])
    expect(
      keepPresence(null, 'log', tickingClock(), { ...none, restored: true }).restored(),
    ).toEqual({
      readings: 0,
      at: expect.stringMatching(NOW),
    })
  })
})

describe('a loss', () => {
  test('is a turn that the mark has seen and the database lacks', () => {
    const turn = (number: number) => ({ turn: { epoch: 'a', turn: number } })
    expect(missing({ mark: mark({}), opened: turn(4) })).toEqual({ readings: 1, lastSeen: AT })
    expect(missing({ mark: mark({}), opened: turn(5) })).toBeNull()
    expect(missing({ mark: mark({}), opened: turn(6) })).toBeNull()
    // An edit is gone, no reading.
    expect(missing({ mark: mark({ readings: 2 }), opened: turn(4) })).toEqual({
      readings: 0,
      lastSeen: AT,
    })
    expect(missing({ mark: mark({ readings: 1 }), opened: turn(4) })).toMatchObject({ readings: 0 })
  })

  test('is another database in the place of one in which there was something', () => {
    const other = { turn: { epoch: 'b', turn: 9 }, listed: 0 }
    expect(missing({ mark: mark({}), opened: other })).toMatchObject({ readings: 3 })
    expect(missing({ mark: mark({ turn: 0 }), opened: other })).toMatchObject({ readings: 3 })
    expect(missing({ mark: mark({ readings: 0 }), opened: other })).toMatchObject({ readings: 0 })
    expect(missing({ mark: mark({ readings: 0, turn: 0 }), opened: other })).toBeNull()
  })

  test('by the mark of a former version is an empty database alone', () => {
    const former = { readings: 3, at: AT, missing: null }
    const empty = { listed: 0, turn: { epoch: 'b', turn: 0 } }
    for (const old of [former, { ...former, epoch: 'a' }, { ...former, turn: 7 }]) {
      expect(missing({ mark: old, opened: empty })).toEqual({ readings: 3, lastSeen: AT })
      expect(missing({ mark: old, opened: { ...empty, listed: 1 } })).toBeNull()
      expect(
        missing({ mark: old, opened: { listed: 0, turn: { epoch: 'b', turn: 1 } } }),
      ).toBeNull()
      expect(missing({ mark: { ...old, readings: 0 }, opened: empty })).toBeNull()
    }
  })

  test('is what a journal with a gap could not bring back', () => {
    expect(missing({ mark: mark({}), opened: { restored: 'in part' } })).toMatchObject({
      readings: 1,
    })
    expect(missing({ mark: mark({}), opened: { restored: true } })).toBeNull()
  })

  test('adds to one that nobody has answered, which stays by itself too', () => {
    const before = { readings: 4, lastSeen: '2025-01-01T00:00:00Z' }
    const marked = mark({ missing: before })
    expect(missing({ mark: marked })).toEqual(before)
    expect(missing({ mark: marked, opened: { turn: { epoch: 'a', turn: 1 } } })).toEqual({
      readings: 4 + 1,
      lastSeen: AT,
    })
  })

  test('is over when as much is back, and nothing was written since', () => {
    const lost = { readings: 4, lastSeen: AT }
    const marked = (turn: number) => mark({ readings: 0, turn, missing: lost })
    const back = (turn: number, of: Partial<OpenedState>) =>
      missing({ mark: marked(turn), opened: { listed: 4, restored: true, ...of } })
    expect(back(0, {})).toBeNull()
    expect(back(0, { listed: 5 })).toBeNull()
    expect(back(0, { listed: 3 })).toMatchObject(lost)
    expect(back(1, {})).toMatchObject(lost)
    expect(back(0, { restored: false })).toMatchObject(lost)
    expect(back(0, { restored: 'in part' })).toMatchObject({ readings: 4 })
  })
})

describe('what was restored', () => {
  test('is told until it is read, in all tabs', () => {
    const { presence, storage } = opened({ mark: mark({}), opened: { restored: true } })
    expect(presence.restored()).toEqual({ readings: 2, at: expect.stringMatching(NOW) })
    const other = opened({}, storage).presence
    expect(other.restored()).toMatchObject({ readings: 2 })
    other.dismiss()
    expect([presence.restored(), presence.missing()]).toEqual([null, null])
    expect(opened({}, storage).presence.restored()).toBeNull()
  })

  test('a loss is read in one tab for all', () => {
    const { presence, storage } = opened({
      mark: mark({}),
      opened: { turn: { epoch: 'a', turn: 1 } },
    })
    expect(presence.missing()).toMatchObject({ readings: 1 })
    const other = opened({ opened: { turn: { epoch: 'a', turn: 1 } } }, storage).presence
    other.dismiss()
    expect(presence.missing()).toBeNull()
  })

  test('later, out of the journal, ends a loss that was told of; what nobody was told of is none', () => {
    const lost = opened({ mark: mark({}), opened: { turn: { epoch: 'a', turn: 1 } } })
    lost.presence.caughtUp({ listed: 3, turn: { epoch: 'a', turn: 5 } })
    expect(lost.presence.missing()).toBeNull()
    expect(lost.presence.restored()).toEqual({ readings: 3, at: expect.stringMatching(NOW) })
    expect(lost.kept()).toMatchObject({ readings: 3, epoch: 'a', turn: 5 })

    const behind = opened({ mark: mark({}), opened: { turn: { epoch: 'a', turn: 1 } } })
    behind.presence.caughtUp({ listed: 2, turn: { epoch: 'a', turn: 4 } })
    expect(behind.presence.missing()).toMatchObject({ readings: 1 })
    expect(behind.presence.restored()).toBeNull()

    const unnoticed = opened({ mark: mark({}) })
    unnoticed.presence.caughtUp({ listed: 3, turn: { epoch: 'a', turn: 6 } })
    expect(unnoticed.presence.restored()).toBeNull()
    expect(unnoticed.kept()).toMatchObject({ readings: 3, turn: 6, missing: null })
  })
})
