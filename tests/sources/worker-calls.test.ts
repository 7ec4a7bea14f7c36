import { afterEach, describe, expect, test, vi } from 'vitest'
import {
  type Answer,
  type Call,
  WorkerCalls,
  type WorkerPort,
} from '../../src/sources/worker-calls.ts'

/** A worker that answers when it is told to. */
class MadeWorker implements WorkerPort {
  onmessage: WorkerPort['onmessage'] = null
  onerror: WorkerPort['onerror'] = null
  readonly calls: Call[] = []
  ended = false
  postMessage(message: unknown): void {
    this.calls.push(message as Call)
  }
  terminate(): void {
    this.ended = true
  }
  answer(data: Answer): void {
    this.onmessage?.({ data } as MessageEvent<Answer>)
  }
}

type Ops = { square: readonly [number, number] }
class Refused extends Error {}

function start() {
  const worker = new MadeWorker()
  return { worker, calls: new WorkerCalls<Ops>(worker, (refusal) => new Refused(refusal)) }
}

afterEach(() => vi.unstubAllGlobals())

const outcome = (promise: Promise<number>) =>
  promise.then(
    (value) => value,
    (error: Error) => error.name,
  )

describe('calls to a worker', () => {
  test('answers find their calls, in whatever order they come', async () => {
    const { worker, calls } = start()
    const both = [calls.call('square', 2), calls.call('square', 3)]
    worker.answer({ id: 1, output: 9 })
    worker.answer({ id: 0, output: 4 })
    expect(await Promise.all(both)).toEqual([4, 9])
  })

  test('of calls that supersede each other one is under way and the latest waits', async () => {
    const { worker, calls } = start()
    const outcomes = [1, 2, 3, 4].map((n) => outcome(calls.call('square', n, { latest: true })))
    expect(worker.calls.map(({ input }) => input)).toEqual([1])
    worker.answer({ id: 0, output: 1 })
    expect(worker.calls.map(({ input }) => input)).toEqual([1, 4])
    worker.answer({ id: 3, output: 16 })
    expect(await Promise.all(outcomes)).toEqual(['AbortError', 'AbortError', 'AbortError', 16])
    const next = calls.call('square', 5, { latest: true })
    worker.answer({ id: 4, output: 25 })
    expect(await next).toBe(25)
  })

  test('a failed call makes room for the one that waits', async () => {
    const { worker, calls } = start()
    const first = outcome(calls.call('square', 1, { latest: true }))
    const second = outcome(calls.call('square', 2, { latest: true }))
    worker.answer({ id: 0, failure: 'no' })
    worker.answer({ id: 1, output: 4 })
    expect([await first, await second]).toEqual(['AbortError', 4])
  })

  test('refusals come as their own errors, failures as plain ones, progress by the way', async () => {
    const { worker, calls } = start()
    const shares: number[] = []
    const refused = calls.call('square', 1, { onProgress: (share) => shares.push(share) })
    const failed = calls.call('square', 2)
    worker.answer({ id: 0, progress: 0.5 })
    worker.answer({ id: 0, refusal: 'odd' })
    worker.answer({ id: 1, failure: 'broken' })
    await expect(refused).rejects.toThrow(Refused)
    await expect(failed).rejects.toThrow('broken')
    expect(shares).toEqual([0.5])
  })

  test('closing ends the worker and whatever waits; later calls end at once', async () => {
    const { worker, calls } = start()
    const waiting = outcome(calls.call('square', 1))
    calls.close()
    worker.answer({ id: 0, output: 1 })
    expect(worker.ended).toBe(true)
    expect(await waiting).toBe('AbortError')
    expect(await outcome(calls.call('square', 2))).toBe('AbortError')
  })

  test('a worker that breaks down fails all its calls', async () => {
    const { worker, calls } = start()
    const waiting = calls.call('square', 1)
    worker.onerror?.({ message: 'out of memory' } as ErrorEvent)
    await expect(waiting).rejects.toThrow('out of memory')
  })

  test('a worker that ends without a word does too: the lock that it held is free', async () => {
    let free = () => {}
    const request = async (_name: string, work: () => void) => {
      free = work
    }
    vi.stubGlobal('navigator', { locks: { request } })
    const { worker, calls } = start()
    const waiting = calls.call('square', 1)
    worker.answer({ lock: 'life of the worker' })
    free()
    await expect(waiting).rejects.toThrow('ended')
    await expect(calls.call('square', 2)).rejects.toThrow('ended')
  })

  test('where a worker keeps nothing, another takes its place at the next call', async () => {
    const made: MadeWorker[] = []
    const another = () => {
      made.push(new MadeWorker())
      return made.at(-1)!
    }
    const calls = new WorkerCalls<Ops>(another(), (refusal) => new Refused(refusal), another)
    const lost = calls.call('square', 1, { latest: true })
    made[0]!.onerror?.({ message: 'out of memory' } as ErrorEvent)
    await expect(lost).rejects.toThrow('out of memory')
    expect(made).toHaveLength(1)
    const next = calls.call('square', 2, { latest: true })
    made[1]!.answer({ id: made[1]!.calls[0]!.id, output: 4 })
    expect(await next).toBe(4)
    calls.close()
    expect(await outcome(calls.call('square', 3))).toBe('AbortError')
    expect(made).toHaveLength(2)
  })
})
