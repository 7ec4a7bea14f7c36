import 'fake-indexeddb/auto'
import { describe, expect, test } from 'vitest'
import { type Change, JOURNALED_STORES, textOfChanges } from '../../../src/log/journal/changes.ts'
import type { JournalFiles } from '../../../src/log/journal/files.ts'
import { type FrameKind, frameBytes } from '../../../src/log/journal/frames.ts'
import { type Keeper, keepJournal } from '../../../src/log/journal/keeper.ts'
import { type MemoryFiles, memoryFiles } from './memory-files.ts'

const HEADER = { epoch: 'a', version: 3, atMs: 1000 }
const setting = (name: string, value: unknown = name): Change => ['settings', name, value]

function journal(files: MemoryFiles = memoryFiles(), prefix = 's') {
  let names = 0
  const keeper = keepJournal(files, () => `${prefix}${names++}`)
  const append = (kind: FrameKind, turn: number, changes: Change[] = [], header = HEADER) =>
    keeper.append(header, { kind, turn, text: kind === 'abort' ? '' : textOfChanges(changes) }, [])
  return { files, keeper, append }
}

async function replayed(keeper: Keeper, afterTurn = -1, epoch = 'a') {
  const { count } = await keeper.replay(epoch, afterTurn)
  return (await keeper.next(count)).map(({ change }) => change)
}
/** The settings that are left, in the order of their writing. */
const settings = async (keeper: Keeper, afterTurn = -1) =>
  (await replayed(keeper, afterTurn)).filter(({ length }) => length > 1).map(([, name]) => name)

describe('what lies in a journal', () => {
  test('is nothing, or as many turns as were completed', async () => {
    const { files, keeper, append } = journal()
    expect(await keeper.look()).toBeNull()
    await append('end', 1, [setting('one')])
    await append('part', 2, [setting('two')])
    expect(await keeper.look()).toEqual({
      ...HEADER,
      turn: 1,
      whole: true,
      snapshotBytes: 0,
      bytes: files.content.get('s0')!.length,
    })
    await append('end', 2, [setting('more')])
    await append('end', 3)
    await append('abort', 3)
    expect(await keeper.look()).toMatchObject({ turn: 2, whole: true })
    await append('end', 4)
    expect(await keeper.look()).toMatchObject({ turn: 4, whole: false })
  })

  test('counts in all segments of the database that was begun last', async () => {
    const { files, append, keeper } = journal()
    await append('end', 1)
    const former = journal(files, 'b')
    await former.append('end', 7, [setting('other')], { ...HEADER, epoch: 'b', atMs: 999 })
    const beside = journal(files, 't')
    await beside.append('end', 2, [setting('beside')], { ...HEADER, atMs: 1001 })
    const sizes = ['s0', 't0'].map((name) => files.content.get(name)!.length)
    expect(await keeper.look()).toMatchObject({
      epoch: 'a',
      turn: 2,
      whole: true,
      atMs: 1001,
      bytes: sizes[0]! + sizes[1]!,
    })
    expect(await settings(keeper)).toEqual(['beside'])
    expect((await replayed(keeper, -1, 'b')).map(([, name]) => name)).toEqual(['other'])
  })

  test('without a head is no segment', async () => {
    const { files, keeper } = journal()
    files.content.set('torn', frameBytes({ kind: 'end', turn: 1, text: '[]' }).slice(0, -1))
    files.content.set('headless', frameBytes({ kind: 'end', turn: 1, text: '[]' }))
    expect(await keeper.look()).toBeNull()
  })
})

describe('what is appended', () => {
  /** Files that tell what is done with them. */
  function watched() {
    const told: string[] = []
    const files = memoryFiles()
    const { hold: holding } = files
    const hold: JournalFiles['hold'] = async (name) => {
      const file = await holding(name)
      if (file === null) return null
      return Object.assign(file, {
        flush: async () => void told.push(`flush ${name}`),
        close: ((close) => async () => {
          told.push(`close ${name}`)
          await close()
        })(file.close),
      })
    }
    return { told, files: Object.assign(files, { hold }) }
  }

  test('is on disk with the last piece of a turn, not with each', async () => {
    const { told, files } = watched()
    const { append } = journal(files)
    await append('part', 1)
    expect(told).toEqual([])
    await append('end', 1)
    await append('abort', 1)
    expect(told).toEqual(['flush s0', 'flush s0'])
  })

  test('goes on in the newest segment that a former tab left, its torn end cut off', async () => {
    const files = memoryFiles()
    for (const prefix of ['a', 'b']) await journal(files, prefix).append('end', 1)
    const sound = files.content.get('b0')!
    files.content.set('b0', new Uint8Array([...sound, 1, 2, 3]))
    const before = files.content.get('a0')!.length
    files.kill()
    await journal(files, 'c').append('end', 2)
    expect([...files.content.keys()]).toEqual(['a0', 'b0'])
    expect(files.content.get('a0')).toHaveLength(before)
    const added = frameBytes({ kind: 'end', turn: 2, text: '[]' })
    expect(files.content.get('b0')).toEqual(new Uint8Array([...sound, ...added]))
  })

  test('goes into a new segment beside one that another tab holds, and for another database or version', async () => {
    const { told, files } = watched()
    await journal(files, 'a').append('end', 1)
    const { append, keeper } = journal(files, 'b')
    await append('end', 2)
    await append('end', 3)
    expect([...files.content.keys()]).toEqual(['a0', 'b0'])
    told.length = 0
    await append('end', 1, [], { ...HEADER, epoch: 'b' })
    await append('end', 2, [], { ...HEADER, epoch: 'b' })
    await append('end', 2, [], { ...HEADER, version: 4 })
    expect([...files.content.keys()]).toEqual(['a0', 'b0', 'b1', 'b2'])
    expect(told.filter((one) => one.startsWith('close'))).toEqual(['close b0', 'close b1'])
    // What was let go can be gone on with.
    await append('end', 4)
    expect(files.content.size).toBe(4)
    await keeper.close()
    await keeper.close()
    expect(told.filter((one) => one.startsWith('close')).slice(2)).toEqual(['close b2', 'close b0'])
  })

  test('is refused where no segment can be begun', async () => {
    const files = Object.assign(memoryFiles(), { hold: async () => null })
    await expect(journal(files).append('end', 1)).rejects.toThrow('cannot be begun')
  })

  test('has its large pictures beside it', async () => {
    const { files, keeper } = journal()
    const bytes = Uint8Array.of(1, 2, 3)
    const text = textOfChanges([
      ['pictures', 'p', { id: 'p' }],
      ['pictures', 'gone', { id: 'gone' }],
      ['pictures', 'small', { id: 'small', bytes }],
      ['pictures', 'dropped'],
    ])
    await keeper.append(HEADER, { kind: 'end', turn: 1, text }, [{ id: 'p', bytes }])
    expect(files.pictureBytes.get('p')).toEqual(bytes)
    expect(await keeper.replay('a', -1)).toEqual({ count: 4, whole: true })
    const found = await keeper.next(3)
    expect(found.map(({ change, bytes: of }) => [change[1], of])).toEqual([
      ['p', bytes],
      ['gone', undefined],
      ['small', bytes],
    ])
    expect(await keeper.next(3)).toEqual([{ change: ['pictures', 'dropped'] }])
    expect(await keeper.next(3)).toEqual([])
  })
})

describe('what is replayed', () => {
  test('are the completed turns of all tabs in their order, without what came to no end', async () => {
    const files = memoryFiles()
    const [one, two] = [journal(files, 'a'), journal(files, 'b')]
    await two.append('end', 2, [setting('x', 2), setting('second')])
    await one.append('end', 1, [setting('x', 1), setting('first')])
    await one.append('part', 3, [setting('begun')])
    await one.append('part', 4, [setting('half')])
    await one.append('end', 4, [setting('whole')])
    await two.append('end', 5, [setting('taken back')])
    await two.append('abort', 5)
    await two.append('part', 6, [setting('never ended')])
    expect(await settings(one.keeper)).toEqual(['x', 'first', 'second', 'half', 'whole'])
    expect((await replayed(one.keeper))[0]).toEqual(setting('x', 2))
    expect(await settings(one.keeper, 1)).toEqual(['x', 'second', 'half', 'whole'])
    expect(await settings(one.keeper, 3)).toEqual(['half', 'whole'])
    expect(await settings(one.keeper, 4)).toEqual([])
  })

  test('is what lies there when it is asked, also after it was looked at before', async () => {
    const { keeper, append } = journal()
    await append('end', 1, [setting('one')])
    await keeper.look()
    expect(await settings(keeper)).toEqual(['one'])
    await journal(memoryFiles()).append('end', 1)
    await append('end', 2, [setting('two')])
    expect(await settings(keeper)).toEqual(['one', 'two'])
  })
})

describe('a snapshot', () => {
  async function snapshotAt(turn: number, of: ReturnType<typeof journal>, pictures: string[] = []) {
    await of.keeper.beginSnapshot(HEADER)
    await of.keeper.snapshotPart(turn, textOfChanges([setting('all')]), [])
    await of.keeper.snapshotPart(turn, textOfChanges([setting('of it')]), [])
    await of.keeper.finishSnapshot(turn, pictures)
  }

  test('takes the place of all that was before it, of what no other tab holds', async () => {
    const files = memoryFiles()
    const other = journal(files, 'x')
    await other.append('end', 1, [setting('held')])
    const here = journal(files, 'y')
    await here.append('end', 2, [setting('before')])
    await snapshotAt(2, here)
    // Its own new segment to write into is as old as nothing: it is held.
    expect([...files.content.keys()].sort()).toEqual(['x0', 'y1', 'y2'])
    expect(await here.keeper.look()).toMatchObject({
      turn: 2,
      whole: true,
      snapshotBytes: files.content.get('y2')!.length,
    })
    await here.append('end', 3, [setting('after')])
    expect(await here.keeper.look()).toMatchObject({ turn: 3, whole: true })
    // All stores are emptied, then filled by it; what other segments hold of before is in it.
    const all = await replayed(here.keeper)
    expect(all.filter(({ length }) => length === 1).map(([store]) => store)).toEqual([
      ...JOURNALED_STORES,
    ])
    expect(await settings(here.keeper)).toEqual(['all', 'of it', 'after'])
    expect(await settings(here.keeper, 1)).toEqual(['all', 'of it', 'after'])
    expect(await settings(here.keeper, 2)).toEqual(['after'])
  })

  test('leaves a segment in which something lies that is later', async () => {
    const files = memoryFiles()
    await journal(files, 'x').append('end', 3, [setting('later')])
    files.kill()
    const here = journal(files, 'y')
    await snapshotAt(2, here)
    expect([...files.content.keys()]).toContain('x0')
    expect(await here.keeper.look()).toMatchObject({ turn: 3, whole: true })
    expect(await settings(here.keeper)).toEqual(['all', 'of it', 'later'])
  })

  test('lets pictures go that lay there before and that nothing names any more', async () => {
    const here = journal()
    const bytes = Uint8Array.of(1)
    const put = (id: string) =>
      here.keeper.append(HEADER, { kind: 'end', turn: 1, text: '[]' }, [{ id, bytes }])
    await put('kept')
    await put('left')
    await here.keeper.beginSnapshot(HEADER)
    await put('meanwhile')
    await here.keeper.snapshotPart(1, '[]', [{ id: 'given', bytes }])
    await here.keeper.finishSnapshot(1, ['kept'])
    expect([...here.files.pictureBytes.keys()]).toEqual(['kept', 'meanwhile', 'given'])
  })

  test('that never came to its end is none; the newest of two counts', async () => {
    const here = journal()
    await here.append('end', 1, [setting('one')])
    await here.keeper.beginSnapshot(HEADER)
    await here.keeper.snapshotPart(1, textOfChanges([setting('half')]), [])
    expect(await settings(here.keeper)).toEqual(['one'])
    // Begun anew: the first is let go, and written into no more.
    await snapshotAt(1, here)
    await here.append('end', 2, [setting('two')])
    await here.keeper.beginSnapshot(HEADER)
    await here.keeper.snapshotPart(2, textOfChanges([setting('newest')]), [])
    await here.keeper.finishSnapshot(2, [])
    expect(await settings(here.keeper)).toEqual(['newest'])
    expect((await here.keeper.look())?.snapshotBytes).toBeGreaterThan(0)
    // Nothing is done where none was begun.
    const before = [...here.files.content.keys()]
    await here.keeper.finishSnapshot(9, [])
    await here.keeper.snapshotPart(9, '[]', [])
    expect([...here.files.content.keys()]).toEqual(before)
  })

  test('is not written into while it is made', async () => {
    const here = journal()
    await here.keeper.beginSnapshot(HEADER)
    const made = here.files.content.get('s1')!.length
    await here.append('end', 1, [setting('meanwhile')])
    expect(here.files.content.get('s1')).toHaveLength(made)
    await here.append('end', 1, [], { ...HEADER, epoch: 'b' })
    await here.append('end', 2, [setting('again')])
    expect(here.files.content.get('s1')).toHaveLength(made)
    await here.keeper.close()
    const after = journal(here.files, 'z')
    await after.append('end', 3)
    // Let go with the keeper: another may go on in it.
    expect(here.files.content.has('z0')).toBe(false)
  })
})
