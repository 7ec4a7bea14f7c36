import type { Browser } from 'playwright-core'
import { slowness } from '../../scripts/machine-speed.mjs'
import { fakeCamera, launchBrowser, phone, standing } from '../browser/browser.ts'
import { glowVideo } from '../browser/live-video.ts'
import { type Bench, type Figure, median } from './figure.ts'

/** Main thread slowed down as on a mid-range phone. */
const slowdown = 4

interface Run {
  /** From a frame's copy being asked for to its codes being there and read, each frame. */
  readonly readMs: number[]
  readonly longTasks: number[]
  readonly heapGrowthBytes: number
  readonly frames: number
}

/** A 1280x720 stream read as the live screen reads it. */
export const bench: Bench = async ({ short, url }) => {
  const video = glowVideo(1273)
  const browser = await launchBrowser([...fakeCamera(video.file), '--enable-precise-memory-info'])
  try {
    const fast = await live(browser, url, { rate: 1, frames: short ? 20 : 2000 })
    const slow = short ? [] : await slowed(browser, url)
    return [
      { name: 'live: region to reading, 1x', ...ms(median(fast.readMs)), target: { atMost: 2 } },
      {
        name: 'live: longest task, 1x',
        ...ms(Math.max(0, ...fast.longTasks)),
        target: { atMost: 50 },
      },
      ...slow,
      {
        name: `live: heap growth over ${fast.frames} frames`,
        value: fast.heapGrowthBytes / 1e6,
        unit: 'MB',
        target: { atMost: 1 },
      },
    ]
  } finally {
    await browser.close()
    video.remove()
  }
}

const ms = (value: number) => ({ value, unit: 'ms', timed: true })

/** On a main thread slowed down, which says nothing but speed. */
async function slowed(browser: Browser, url: string): Promise<Figure[]> {
  const { readMs, longTasks } = await live(browser, url, { rate: slowdown, frames: 300 })
  return [
    {
      name: `live: region to reading, ${slowdown}x`,
      ...ms(median(readMs)),
      target: { atMost: 8 },
    },
    { name: `live: longest task, ${slowdown}x`, ...ms(Math.max(0, ...longTasks)) },
  ]
}

async function live(
  browser: Browser,
  url: string,
  { rate, frames }: { rate: number; frames: number },
): Promise<Run> {
  const context = await browser.newContext(phone)
  const page = await context.newPage()
  await page.addInitScript(watch)
  await page.goto(`${url}/reading/live`)
  await standing(page)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate })
  await page.getByRole('button', { name: 'Start the camera' }).click()
  await page.locator('.live_live-readout .plus-minus').waitFor({ timeout: 60_000 * slowness() })
  const heap = async () => {
    await session.send('HeapProfiler.collectGarbage')
    const { usedSize } = await session.send('Runtime.getHeapUsage')
    return usedSize
  }
  const read = async (count: number) => {
    await page.evaluate(() => (globalThis as unknown as Watched).liveWatch.begin())
    await page.waitForFunction(
      (all) => (globalThis as unknown as Watched).liveWatch.readMs.length >= all,
      count,
      { timeout: 300_000 * slowness(), polling: 100 },
    )
  }
  // What starting costs is no part of running.
  await read(Math.min(45, frames))
  const before = await heap()
  await read(frames)
  const { readMs, longTasks } = await page.evaluate(() => {
    const { liveWatch } = globalThis as unknown as Watched
    return { readMs: liveWatch.readMs.splice(0), longTasks: liveWatch.longTasks.splice(0) }
  })
  const heapGrowthBytes = (await heap()) - before
  await context.close()
  return { readMs, longTasks, heapGrowthBytes, frames: readMs.length }
}

interface Watched {
  liveWatch: { readMs: number[]; longTasks: number[]; begin(): void }
}

/**
 * Runs in the page before its scripts: times each small copy (the region; whole frames are larger
 * than 300 kB and go to a worker) from the call to the end of the microtasks that read it.
 */
function watch(): void {
  const liveWatch = {
    on: false,
    beganMs: 0,
    readMs: [] as number[],
    longTasks: [] as number[],
    begin() {
      liveWatch.on = true
      liveWatch.beganMs = performance.now()
      liveWatch.readMs.length = 0
      liveWatch.longTasks.length = 0
    },
  }
  Object.assign(globalThis, { liveWatch })
  new PerformanceObserver((list) => {
    // Entries come late: the collection of garbage before the run is no part of it.
    for (const { duration, startTime } of list.getEntries())
      if (liveWatch.on && startTime >= liveWatch.beganMs) liveWatch.longTasks.push(duration)
  }).observe({ entryTypes: ['longtask'] })
  const copy = VideoFrame.prototype.copyTo
  VideoFrame.prototype.copyTo = function (destination, options) {
    const start = performance.now()
    const done = copy.call(this, destination, options)
    const isRegion = (destination as ArrayBufferView).byteLength < 300_000
    if (isRegion && liveWatch.on)
      // The reader's own continuations run as microtasks before this task of its own.
      done.then(() => {
        const channel = new MessageChannel()
        channel.port1.onmessage = () => {
          liveWatch.readMs.push(performance.now() - start)
          channel.port1.close()
        }
        channel.port2.postMessage(null)
      })
    return done
  }
}
