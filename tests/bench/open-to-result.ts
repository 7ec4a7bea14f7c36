import type { Browser, Page } from 'playwright-core'
import { phone, standing } from '../browser/browser.ts'
import { type Figure, median } from './figure.ts'

/** Main thread slowed down as on a mid-range phone; workers may not be, so they are counted apart. */
const slowdown = 4

interface Run {
  /** From the file's arrival in the page to the first frame that shows its result. */
  totalMs: number
  /** Part of it in which a worker owed an answer. */
  workerMs: number
}

export interface Opening {
  /** What the file is, as the figures are called. */
  readonly name: string
  readonly file: string
  /** 1 shows that the way is open: at full speed alone, without the figure that has the target. */
  readonly runs: number
  readonly atMostSeconds: number
  /** Each time a result stands, with the page still open. */
  readonly onResult?: (page: Page) => Promise<void>
}

/** Times from picking a file to its result, in a browser's first visit each. */
export async function openToResult(
  browser: Browser,
  url: string,
  { name, file, runs, atMostSeconds, onResult }: Opening,
): Promise<Figure[]> {
  const fast = await repeat(runs, () => openPhoto(browser, url, file, 1, onResult))
  const at1x = median(fast.map(({ totalMs }) => totalMs))
  const worker1x = median(fast.map(({ workerMs }) => workerMs))
  const seconds = (ms: number) => ({ value: ms / 1000, unit: 's', timed: true })
  const atFullSpeed = [
    { name: `${name}, open to result, 1x`, ...seconds(at1x) },
    { name: 'of it a worker was busy', ...seconds(worker1x) },
  ]
  if (runs === 1) return atFullSpeed
  const slow = await repeat(runs, () => openPhoto(browser, url, file, slowdown, onResult))
  const measured4x = median(slow.map(({ totalMs }) => totalMs))
  return [
    ...atFullSpeed,
    { name: `${name}, page at ${slowdown}x`, ...seconds(measured4x) },
    {
      // As if the throttle had not reached the worker at all: an upper bound.
      name: `${name}, page and worker at ${slowdown}x`,
      ...seconds(measured4x + (slowdown - 1) * worker1x),
      target: { atMost: atMostSeconds },
    },
  ]
}

async function repeat<T>(times: number, run: () => Promise<T>): Promise<T[]> {
  const results: T[] = []
  for (let i = 0; i < times; i++) results.push(await run())
  return results
}

async function openPhoto(
  browser: Browser,
  url: string,
  file: string,
  rate: number,
  onResult: Opening['onResult'],
): Promise<Run> {
  const context = await browser.newContext(phone)
  const page = await context.newPage()
  await page.addInitScript(watchWorkers)
  await page.goto(url)
  await standing(page)
  await page.waitForLoadState('networkidle')
  await page.evaluate(() => navigator.serviceWorker.ready)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate })
  const run = page.evaluate(timeToResult)
  const asked = page.waitForEvent('filechooser')
  await page.getByText('Open a photo, or several', { exact: true }).click()
  const chooser = await asked
  // Nobody finds a photo faster.
  await page.waitForTimeout(1000)
  await chooser.setFiles(file)
  const result = await run
  await onResult?.(page)
  await context.close()
  return result
}

/**
 * Runs in the page before its scripts: adds up the time in which a worker owes an answer. Calls and
 * answers carry a number; a message of progress is no answer.
 */
function watchWorkers(): void {
  const owed = new Set<string>()
  let since = 0
  let busyMs = 0
  let count = 0
  Object.assign(globalThis, {
    workerBusyMs: () => busyMs + (owed.size > 0 ? performance.now() - since : 0),
  })
  globalThis.Worker = class extends Worker {
    #name = `${count++}`
    constructor(address: string | URL, options?: WorkerOptions) {
      super(address, options)
      this.addEventListener('message', ({ data }) => {
        if ('progress' in data || !owed.delete(`${this.#name} ${data.id}`)) return
        if (owed.size === 0) busyMs += performance.now() - since
      })
    }
    override postMessage(message: unknown, transfer?: Transferable[] | StructuredSerializeOptions) {
      if (owed.size === 0) since = performance.now()
      owed.add(`${this.#name} ${(message as { id: unknown }).id}`)
      super.postMessage(message, transfer as Transferable[])
    }
  }
}

/** Runs in the page: waits for a file to be chosen, then for the frame that shows its result. */
function timeToResult(): Promise<Run> {
  const busy = () => (globalThis as unknown as { workerBusyMs: () => number }).workerBusyMs()
  return new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error('No result within a minute.')), 60_000)
    let start = 0
    let busyBefore = 0
    const onArrival = () => {
      start = performance.now()
      busyBefore = busy()
    }
    document.addEventListener('change', onArrival, { capture: true, once: true })
    const look = () => {
      if (start === 0 || document.querySelector('section.result_result') === null)
        return requestAnimationFrame(look)
      // The frame after the one in which it was found has painted it.
      requestAnimationFrame(() =>
        resolve({ totalMs: performance.now() - start, workerMs: busy() - busyBefore }),
      )
    }
    requestAnimationFrame(look)
  })
}
