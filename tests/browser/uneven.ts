import { env } from 'node:process'
import type { BrowserContext } from 'playwright-core'

/**
 * A machine out of rhythm, on purpose: `UNEVEN=7 npm run browser` lets workers, files, frames, observers,
 * scroll events, stored data and parts of the app answer late, in a pattern that the number decides, and
 * stops the page now and then; `UNEVEN=slow` lets the test's own hand be slow instead. What a busy machine
 * shows once in a thousand runs comes up here in a few: a test (or a screen) that counts on two things
 * being ready at the same moment.
 */
export const uneven = env.UNEVEN ?? ''
export const seed = Number(uneven) || 0

/** Pause before each step of a test, ms. */
export const slowMo = uneven === 'slow' ? 150 : 0

/** How much longer all takes, for limits of time. */
export const unevenPatience = uneven === '' ? 1 : 3

let contexts = 0

export async function makeUneven(context: BrowserContext, offlineUse: boolean): Promise<void> {
  if (seed === 0) return
  const own = seed * 1000 + contexts++
  await context.addInitScript(answerLate, own)
  // A request that the test steps into never reaches the service worker.
  if (offlineUse) return
  let turn = own
  await context.route(/\/assets\/.*\.js$/, async (route) => {
    turn = (turn * 16807) % 2147483647
    await new Promise((resolve) => setTimeout(resolve, turn % 3 === 0 ? turn % 400 : 0))
    await route.continue().catch(() => undefined)
  })
}

/** Runs in the page before its own code. */
function answerLate(start: number): void {
  const later = globalThis.setTimeout.bind(globalThis)
  const MOST_MS = 500
  let state = start % 2147483647 || 1
  const random = () => {
    state = (state * 16807) % 2147483647
    return state / 2147483647
  }
  const lateMs = () => (random() < 0.5 ? 0 : MOST_MS * random() ** 2)
  const wait = () => new Promise<void>((resolve) => later(resolve, lateMs()))

  /** Calls one after the other, each late. */
  const inOrder = () => {
    let last: Promise<unknown> = Promise.resolve()
    return (act: () => void) => {
      last = last.then(wait).then(() => later(act))
    }
  }

  /** Methods that promise: kept later. */
  // biome-ignore lint/suspicious/noExplicitAny: any method of any class
  const promiseLate = (owner: any, ...names: string[]) => {
    for (const name of names) {
      const original = owner?.[name]
      if (typeof original !== 'function') continue
      owner[name] = async function (...args: unknown[]) {
        const answer = await original.apply(this, args)
        await wait()
        return answer
      }
    }
  }
  promiseLate(globalThis, 'createImageBitmap', 'fetch')
  promiseLate(Blob.prototype, 'arrayBuffer', 'text')
  promiseLate(globalThis.SubtleCrypto?.prototype, 'digest')
  promiseLate(globalThis.CacheStorage?.prototype, 'open', 'keys', 'match', 'delete')
  promiseLate(globalThis.Cache?.prototype, 'match', 'put', 'delete', 'keys')
  promiseLate(
    globalThis.StorageManager?.prototype,
    'estimate',
    'persist',
    'persisted',
    'getDirectory',
  )
  promiseLate(globalThis.MediaDevices?.prototype, 'getUserMedia', 'enumerateDevices')
  promiseLate(globalThis.MediaStreamTrack?.prototype, 'applyConstraints')

  /** Listeners that hear late, in order; who let go meanwhile hears nothing. */
  const hearLate = (owner: EventTarget, ...types: string[]) => {
    const add = owner.addEventListener
    const remove = owner.removeEventListener
    const wrapped = new WeakMap<object, (event: Event) => void>()
    const gone = new WeakSet<object>()
    owner.addEventListener = function (
      this: EventTarget,
      type: string,
      listener: never,
      ...rest: never[]
    ) {
      if (!types.includes(type) || !listener) return add.call(this, type, listener, ...rest)
      const queue = inOrder()
      const given = listener as (event: Event) => void
      gone.delete(given)
      const late =
        wrapped.get(given) ??
        ((event: Event) => queue(() => gone.has(given) || given.call(this, event)))
      wrapped.set(given, late)
      return add.call(this, type, late, ...rest)
    } as typeof add
    owner.removeEventListener = function (
      this: EventTarget,
      type: string,
      listener: never,
      ...rest: never[]
    ) {
      if (!types.includes(type) || !listener) return remove.call(this, type, listener, ...rest)
      gone.add(listener)
      return remove.call(this, type, wrapped.get(listener) ?? listener, ...rest)
    } as typeof remove
  }
  hearLate(window, 'scroll', 'resize', 'storage')
  hearLate(globalThis.IDBTransaction.prototype, 'complete')

  const onMessage = Object.getOwnPropertyDescriptor(Worker.prototype, 'onmessage')!
  Object.defineProperty(Worker.prototype, 'onmessage', {
    ...onMessage,
    set(listener: ((event: MessageEvent) => void) | null) {
      const queue = inOrder()
      const late = listener && ((event: MessageEvent) => queue(() => listener.call(this, event)))
      onMessage.set!.call(this, late)
    },
  })

  const frame = globalThis.requestAnimationFrame.bind(globalThis)
  const cancel = globalThis.cancelAnimationFrame.bind(globalThis)
  const frames = new Map<number, number>()
  let count = 0
  globalThis.requestAnimationFrame = (act) => {
    const id = ++count
    frames.set(id, 0)
    const ask = () =>
      frames.has(id) &&
      frames.set(
        id,
        frame((time) => {
          frames.delete(id)
          act(time)
        }),
      )
    if (random() < 0.7) ask()
    else later(ask, 100 * random())
    return id
  }
  globalThis.cancelAnimationFrame = (id) => {
    cancel(frames.get(id) ?? 0)
    frames.delete(id)
  }

  for (const name of ['ResizeObserver', 'IntersectionObserver'] as const) {
    const Original = globalThis[name] as new (...args: unknown[]) => object
    // biome-ignore lint/suspicious/noExplicitAny: two classes of one shape
    ;(globalThis as any)[name] = class extends Original {
      constructor(act: (...args: unknown[]) => void, ...rest: unknown[]) {
        const queue = inOrder()
        super((...args: unknown[]) => queue(() => act(...args)), ...rest)
      }
    }
  }

  /** The page stands still now and then, as beside other work. */
  const stop = () => {
    const until = performance.now() + 120 * random()
    while (performance.now() < until);
    later(stop, 600 * random())
  }
  later(stop, 200)
}
