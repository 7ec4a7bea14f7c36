import { slowness } from '../../scripts/machine-speed.mjs'
import { fakeCamera, launchBrowser, phone, standing } from '../browser/browser.ts'
import { glowVideo } from '../browser/live-video.ts'
import { type Bench, median } from './figure.ts'

/** The map over a 1280x720 stream in the built app: its rate, its script, its memory. */
export const bench: Bench = async ({ short, url }) => {
  const video = glowVideo(1273)
  const browser = await launchBrowser([...fakeCamera(video.file), '--enable-precise-memory-info'])
  try {
    const context = await browser.newContext(phone)
    const page = await context.newPage()
    await page.addInitScript(watch)
    await page.goto(`${url}/reading/live`)
    await standing(page)
    const session = await context.newCDPSession(page)
    await page.getByRole('button', { name: 'Start the camera' }).click()
    const patience = { timeout: 60_000 * slowness() }
    await page.locator('.live_live-readout .plus-minus').waitFor(patience)
    await page.getByRole('button', { name: 'Map', exact: true }).click()
    await page.getByText('Tap the picture to read a place.').waitFor(patience)
    const mapped = async (count: number) => {
      await page.evaluate(() => (globalThis as unknown as Watched).mapWatch.begin())
      await page.waitForFunction(
        (all) => (globalThis as unknown as Watched).mapWatch.scriptMs.length >= all,
        count,
        { timeout: 300_000 * slowness(), polling: 100 },
      )
      return page.evaluate(() => (globalThis as unknown as Watched).mapWatch.end())
    }
    const heap = async () => {
      await session.send('HeapProfiler.collectGarbage')
      return (await session.send('Runtime.getHeapUsage')).usedSize
    }
    const processor = async () => {
      const { metrics } = await session.send('Performance.getMetrics')
      return metrics.find(({ name }) => name === 'TaskDuration')!.value
    }
    await session.send('Performance.enable', { timeDomain: 'threadTicks' })
    // What starting costs is no part of running.
    await mapped(short ? 5 : 100)
    const [before, busyBefore] = [await heap(), await processor()]
    const frames = short ? 20 : 2000
    const { scriptMs, seconds, cells } = await mapped(frames)
    const busy = (await processor()) - busyBefore
    const growth = (await heap()) - before
    const ms = { unit: 'ms', timed: true }
    return [
      { name: 'live map in the app: cells', value: cells, unit: '', target: { atLeast: 57_600 } },
      {
        name: 'live map in the app: frames a second',
        value: scriptMs.length / seconds,
        unit: '1/s',
        timed: true,
        // The stream has 15: none may be passed over, but for the ends of the measured span.
        target: { atLeast: 14.9 },
      },
      {
        name: 'live map in the app: script a frame, by the clock',
        value: median(scriptMs),
        ...ms,
        target: { atMost: 12 },
      },
      {
        name: 'live map in the app: processor time of the page a frame, all that is on it',
        value: (1000 * busy) / scriptMs.length,
        ...ms,
      },
      {
        name: `live map in the app: heap growth over ${frames} frames`,
        value: growth / 1e6,
        unit: 'MB',
        target: { atMost: 1 },
      },
    ]
  } finally {
    await browser.close()
    video.remove()
  }
}

interface Watched {
  mapWatch: {
    scriptMs: number[]
    begin(): void
    end(): { scriptMs: number[]; seconds: number; cells: number }
  }
}

/**
 * Runs in the page before its scripts: times each map from the moment when the frame's codes are there
 * (the copy is the browser's) until its picture is put on the screen.
 */
function watch(): void {
  let beganMs = 0
  let copiedMs = 0
  let cells = 0
  const mapWatch = {
    scriptMs: [] as number[],
    begin() {
      mapWatch.scriptMs.length = 0
      beganMs = performance.now()
    },
    end: () => ({
      scriptMs: mapWatch.scriptMs.splice(0),
      seconds: (performance.now() - beganMs) / 1000,
      cells,
    }),
  }
  Object.assign(globalThis, { mapWatch })
  const copy = VideoFrame.prototype.copyTo
  VideoFrame.prototype.copyTo = function (destination, options) {
    const done = copy.call(this, destination, options)
    void done.then(() => {
      copiedMs = performance.now()
    })
    return done
  }
  const put = CanvasRenderingContext2D.prototype.putImageData as (
    image: ImageData,
    x: number,
    y: number,
  ) => void
  CanvasRenderingContext2D.prototype.putImageData = function (
    image: ImageData,
    x: number,
    y: number,
  ) {
    put.call(this, image, x, y)
    cells = image.width * image.height
    mapWatch.scriptMs.push(performance.now() - copiedMs)
  }
}
