import { afterEach, describe, expect, test } from 'vitest'
import { contentOf } from '../../../src/log/import/content.ts'
import { answerContent, contentInWorker } from '../../../src/log/import/content-calls.ts'
import { RefusedFile } from '../../../src/log/import/refused.ts'
import { bytesOf, closeTestLogs, draft, jpegBlob, openTestLog } from '../opening.ts'
import { workersHere } from '../worker-here.ts'

afterEach(closeTestLogs)

/** A file of a log with so many readings, each with a picture. */
async function fileOf(count: number) {
  const log = await openTestLog()
  const picture = { blob: jpegBlob(), width: 8, height: 8 }
  for (let i = 0; i < count; i++) await log.add(draft({ object: `bar ${i}` }), picture)
  return new File([await bytesOf(log.export('zip'))], 'log.zip')
}
const all = async <Of>(contents: AsyncIterable<Of>) => {
  const found: Of[] = []
  for await (const one of contents) found.push(one)
  return found
}

describe('a file that is read in a worker', () => {
  test('holds what it holds, some at a message, and tells how far it is', async () => {
    const file = await fileOf(25)
    const { seen } = workersHere(answerContent)
    const shares: number[] = []
    const found = await all(
      contentInWorker(file, { progress: (done, total) => shares.push(done / total) }),
    )
    expect(found).toEqual(await all(contentOf(file, {})))
    expect(found.filter(({ kind }) => kind === 'picture')).toHaveLength(25)
    expect(seen.messages).toBeGreaterThan(2)
    expect(seen.messages).toBeLessThan(found.length / 2)
    expect(shares).toEqual([...shares].sort((a, b) => a - b))
    expect(seen.ended()).toBe(1)
  })

  test('is refused for the same reason as without one, and the worker ends', async () => {
    const { seen } = workersHere(answerContent)
    const refused = await all(contentInWorker(new File(['no log'], 'log.json'), {})).catch(
      (error: unknown) => error,
    )
    expect(refused).toBeInstanceOf(RefusedFile)
    const direct = await all(contentOf(new File(['no log'], 'log.json'), {})).catch(
      (error: unknown) => error,
    )
    expect((refused as RefusedFile).refusal).toEqual((direct as RefusedFile).refusal)
    expect(seen.ended()).toBe(1)
  })

  test('is left at once where the person stops it', async () => {
    const file = await fileOf(25)
    const { seen } = workersHere(answerContent)
    const stop = new AbortController()
    const reading = contentInWorker(file, { signal: stop.signal })
    await reading.next()
    stop.abort()
    await expect(all(reading)).rejects.toThrow(/abort/i)
    expect(seen.ended()).toBe(1)
    // One that was stopped before it began starts no worker.
    await expect(all(contentInWorker(file, { signal: stop.signal }))).rejects.toThrow(/abort/i)
    expect(seen.ended()).toBe(1)
  })

  test('fails where its worker ends without a word, also while what was read is being written', async () => {
    const file = await fileOf(25)
    const { dieSilently, seen } = workersHere(answerContent)
    const reading = contentInWorker(file, {})
    await reading.next()
    dieSilently()
    await expect(all(reading)).rejects.toThrow('ended')
    expect(seen.ended()).toBe(1)
  })

  test('fails by the words of a worker that dies', async () => {
    const { die, seen } = workersHere(() => undefined)
    const reading = all(contentInWorker(new File(['x'], 'log.json'), {}))
    await Promise.resolve()
    die('out of memory')
    await expect(reading).rejects.toThrow('out of memory')
    expect(seen.ended()).toBe(1)
  })
})
