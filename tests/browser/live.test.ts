import type { Page } from 'playwright-core'
import { show, trackState, watchTrack } from './camera-page.ts'
import { axe, CAMERA_K, expect, lead, patient, smallTargets, test } from './harness.ts'

const start = (page: Page) => page.getByRole('button', { name: 'Start the camera' }).click()
const practice = (page: Page) => page.getByRole('button', { name: /Practice bench/ }).click()

/** Value and its ± as they stand on the screen, °C. */
async function figure(page: Page): Promise<{ value: number; plusMinus: number }> {
  await page.locator('.live_live-readout .plus-minus').waitFor()
  const number = async (name: string) =>
    Number((await page.locator(`.live_live-readout .${name}`).textContent())?.replace(/[^\d]/g, ''))
  return { value: await number('value'), plusMinus: await number('plus-minus') }
}

/** The ± once it has stood still from one look of the bench to the next. */
async function settledPlusMinus(page: Page): Promise<number> {
  let last = Number.NaN
  await expect
    .poll(
      async () => {
        const { plusMinus } = await figure(page)
        const same = plusMinus === last
        last = plusMinus
        return same
      },
      { interval: 1500 },
    )
    .toBe(true)
  return last
}

/** Runs in the page: makes getUserMedia fail as a standard names it. */
const refuse = (name: string) => {
  navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', name))
}

test('a fake camera of exact colours reads the simulated temperature; its track goes off when hidden, ended, left', async ({
  visit,
}) => {
  const page = await visit('/reading/live')
  await watchTrack(page)
  await start(page)
  const { value, plusMinus } = await figure(page)
  expect(Math.abs(value + 273.15 - CAMERA_K)).toBeLessThanOrEqual(plusMinus)
  // No control of the camera can be set here: said, and wider.
  await page.getByText('White balance is not locked').waitFor()
  await page.getByText('The exposure cannot be set here').waitFor()
  expect(await page.getByText('by way of the canvas').count()).toBe(0)
  expect(await page.locator('main:visible').getByText('Simulated', { exact: true }).count()).toBe(0)
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])

  // A hidden page lets the camera go and takes it again when it is seen.
  await show(page, 'hidden')
  await page.locator('video').waitFor({ state: 'detached' })
  await show(page, 'visible')
  await figure(page)

  // A track that ends is told, with a way on.
  await page.evaluate(() => {
    const video = document.querySelector('video') as HTMLVideoElement
    const [track] = (video.srcObject as MediaStream).getVideoTracks()
    track?.dispatchEvent(new Event('ended'))
  })
  await page.getByText('The camera has stopped').waitFor()
  await start(page)
  await figure(page)

  // A saved reading lies in the log as live, and leaving the screen stops the track.
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  // The surface changes the figure: it is asked, once.
  const asked = page.getByRole('dialog', { name: 'Before it is saved' })
  await asked.getByLabel('Surface').selectOption('steel-oxidised')
  await asked.getByRole('button', { name: 'Go on' }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.locator('main:visible').getByText('Live camera').first().waitFor()
  expect(await trackState(page)).toBe('ended')
})

test('frames that state other colours than the browser shows are read by way of the canvas', async ({
  visit,
  context,
}) => {
  await context.addInitScript(() => {
    if (typeof VideoFrame === 'undefined') return
    const wrong = { matrix: 'bt709', fullRange: true, primaries: null, transfer: null }
    Object.defineProperty(VideoFrame.prototype, 'colorSpace', { get: () => wrong })
  })
  const page = await visit('/reading/live')
  await start(page)
  await page.getByText('Frames are read by way of the canvas').waitFor()
  // Once the frames that were read wrongly have left the rolling window.
  const isTrue = async () => {
    const { value, plusMinus } = await figure(page)
    return Math.abs(value + 273.15 - CAMERA_K) <= plusMinus
  }
  await expect.poll(isTrue).toBe(true)
})

test('a browser without frames reads by the canvas from the start', async ({ visit, context }) => {
  await context.addInitScript(() => {
    Reflect.deleteProperty(globalThis, 'VideoFrame')
    if (typeof HTMLVideoElement !== 'undefined')
      Reflect.deleteProperty(HTMLVideoElement.prototype, 'requestVideoFrameCallback')
  })
  const page = await visit('/reading/live')
  await start(page)
  const { value, plusMinus } = await figure(page)
  expect(Math.abs(value + 273.15 - CAMERA_K)).toBeLessThanOrEqual(plusMinus)
})

test('a refused, missing, busy or failing camera is a clear sentence with ways on', async ({
  visit,
}) => {
  const page = await visit('/reading/live')
  const cases = [
    ['NotAllowedError', 'The camera was not allowed'],
    ['NotFoundError', 'No camera found'],
    ['NotReadableError', 'The camera is busy'],
    ['TypeError', 'The camera did not start'],
  ] as const
  for (const [name, sentence] of cases) {
    await page.evaluate(refuse, name)
    await start(page)
    await page.getByText(sentence).waitFor()
    expect(await page.getByRole('link', { name: 'Open a photo' }).isVisible()).toBe(true)
  }
  expect(await axe(page)).toEqual([])
})

test('the practice bench is labelled, sweeps by itself, and its curve makes it surer and true; kept, it is checked and used', async ({
  visit,
}) => {
  const page = await visit('/reading/live')
  await practice(page)
  await page.getByText('Simulated', { exact: true }).waitFor()
  // The map over it, and a place of it by keyboard; the practice bar is even.
  const mapButton = page.getByRole('button', { name: 'Map', exact: true })
  await mapButton.click()
  await page.getByText('Tap the picture to read a place.').waitFor()
  await page.getByRole('application', { name: /^Place of the map/ }).press('ArrowRight')
  await page.getByText(/as hot as the sight|than the sight/).waitFor()
  expect(await axe(page)).toEqual([])
  await mapButton.click()
  // The exposure is found by itself: whole half-cycles of the mains.
  await page.getByText('locked, 1/100 s').waitFor()
  await page.getByText('The tone curve is not known').waitFor()
  const before = await figure(page)
  await page.getByRole('button', { name: 'Exposure sweep' }).click()
  await page.getByText('from the sweep').waitFor({ timeout: patient(60_000) })
  // The known curve takes a large part away; camera and balance stay.
  await expect
    .poll(async () => (await figure(page)).plusMinus)
    .toBeLessThan(0.85 * before.plusMinus)
  const after = await figure(page)
  const line = (await page.locator('.live_live-readout').textContent()) ?? ''
  const truth = Number(/simulated: (\d+)/.exec(line)?.[1])
  expect(Math.abs(after.value - truth)).toBeLessThanOrEqual(after.plusMinus)
  await page.keyboard.press('Enter')
  await page.getByRole('button', { name: 'Open', exact: true }).waitFor()
  await page.getByRole('button', { name: 'Keep this tone curve' }).click()
  await page.getByRole('button', { name: 'Curve kept' }).waitFor()
  await page.getByRole('button', { name: 'Stop', exact: true }).click()
  await practice(page)
  await page.getByText('from the kit').waitFor()
  await page.getByText('The kept tone curve holds').waitFor({ timeout: patient(30_000) })
  // White balance locks a moment later than the picture comes: until then the figure is wider.
  await page.getByText('locked, 1/100 s').waitFor()
  const checked = await settledPlusMinus(page)
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  await page.getByText('Undo the tone curve that the kit holds').click()
  await expect.poll(async () => (await figure(page)).plusMinus).toBeGreaterThan(1.15 * checked)
  // A camera is another camera: the bench's curve is not offered to it.
  await page.getByRole('button', { name: 'Stop', exact: true }).click()
  await start(page)
  await figure(page)
  expect(await page.getByText('Undo the tone curve that the kit holds').count()).toBe(0)
  await lead(page, '/kit')
  await page.getByText('Tone curve, practice bench (simulated)').click()
  const lastChecked = page.locator('dt', { hasText: 'Last checked' }).locator('+ dd')
  await lastChecked.getByText('% of light').waitFor()
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.locator('.log_log-row').first().click()
  await page.locator('main:visible').getByText('Practice', { exact: true }).first().waitFor()
})

test('hold stands still, and a series saves until it is stopped', async ({ visit }) => {
  const page = await visit('/reading/live')
  await practice(page)
  await figure(page)
  await page.getByText('Series', { exact: true }).click()
  await page.getByLabel('Save every, s').fill('1')
  await page.getByRole('button', { name: 'Start series' }).click()
  await page.getByText(/Series: [2-9] saved/).waitFor()
  await page.getByRole('button', { name: 'Stop series' }).click()
  await page.getByRole('button', { name: 'Hold' }).click()
  await page.getByText('Held.').waitFor()
})
