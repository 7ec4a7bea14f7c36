import type { BrowserContext, Page } from 'playwright-core'
import { show } from './camera-page.ts'
import { axe, expect, lead, patient, smallTargets, test } from './harness.ts'
import { type Stub, type StubCamera, stubCamera } from './stub-camera.ts'

const TRUTH_K = 1273
const MODES = ['continuous', 'manual']
const AUTOMATIC = {
  exposureMode: 'continuous',
  whiteBalanceMode: 'continuous',
  focusMode: 'continuous',
}
const WHITE_BALANCE = { whiteBalanceMode: MODES, colorTemperature: { min: 2500, max: 7500 } }
const EXPOSURE = {
  exposureMode: MODES,
  // One setting only: the picture of the stub does not follow its exposure.
  exposureTime: { min: 100, max: 100 },
  iso: { min: 50, max: 800 },
}
const EVERYTHING = { ...WHITE_BALANCE, ...EXPOSURE, focusMode: MODES, torch: [true, false] }

const stubOf = <T>(page: Page, read: (stub: Stub) => T): Promise<T> =>
  page.evaluate(
    ([source]) =>
      new Function('stub', `return (${source})(stub)`)((globalThis as { stub?: Stub }).stub) as T,
    [read.toString()] as const,
  )

/** Opens the live screen with the stubbed camera and waits for a figure. */
async function live(
  visit: (place?: string) => Promise<Page>,
  context: BrowserContext,
  camera: StubCamera,
): Promise<Page> {
  await stubCamera(context, camera, TRUTH_K)
  const page = await visit('/reading/live')
  await page.getByRole('button', { name: 'Start the camera' }).click()
  await figure(page)
  return page
}

async function figure(page: Page): Promise<{ value: number; plusMinus: number }> {
  await page.locator('.live_live-readout .plus-minus').waitFor()
  const number = async (name: string) =>
    Number((await page.locator(`.live_live-readout .${name}`).textContent())?.replace(/[^\d]/g, ''))
  return { value: await number('value'), plusMinus: await number('plus-minus') }
}

const fact = (page: Page, name: string) =>
  page.locator('dl.facts dt', { hasText: name }).locator('xpath=following-sibling::dd[1]')

const NOT_OFFERED = 'not locked: this camera does not offer it'
const REFUSED = 'not locked: the camera refused'

const cases: [string, StubCamera, { exposure: string; balance: string; focus: string }][] = [
  [
    'nothing can be locked',
    { capabilities: {}, settings: AUTOMATIC },
    { exposure: NOT_OFFERED, balance: NOT_OFFERED, focus: NOT_OFFERED },
  ],
  [
    'everything',
    { capabilities: EVERYTHING, settings: { ...AUTOMATIC, torch: true } },
    { exposure: 'locked', balance: 'locked on 6500 K', focus: 'locked' },
  ],
  [
    'odd ranges',
    {
      capabilities: {
        ...EVERYTHING,
        torch: undefined,
        colorTemperature: { min: 7000, max: 2000 },
        iso: { min: Number.NaN, max: Number.NaN },
        exposureTime: {},
      },
      settings: AUTOMATIC,
    },
    { exposure: 'locked', balance: 'locked', focus: 'locked' },
  ],
  [
    'constraints are taken and change nothing',
    { capabilities: EVERYTHING, settings: AUTOMATIC, ignores: Object.keys(EVERYTHING) },
    { exposure: REFUSED, balance: REFUSED, focus: REFUSED },
  ],
]

test.for(cases)(
  'a track where %s is locked as far as it goes and says so',
  async ([, camera, expected], { visit, context }) => {
    const page = await live(visit, context, camera)
    await expect.poll(() => fact(page, 'Exposure').textContent()).toContain(expected.exposure)
    await expect.poll(() => fact(page, 'White balance').textContent()).toBe(expected.balance)
    await expect.poll(() => fact(page, 'Focus').textContent()).toBe(expected.focus)
    const { value, plusMinus } = await figure(page)
    expect(Math.abs(value + 273.15 - TRUTH_K)).toBeLessThanOrEqual(plusMinus)
    const loose = expected.balance.startsWith('not')
    expect(await page.getByText('White balance is not locked').count()).toBe(loose ? 1 : 0)
    expect(await page.getByRole('button', { name: 'Lock again' }).count()).toBe(
      expected.balance === REFUSED ? 1 : 0,
    )
    const asked = await stubOf(page, (stub) => [...stub.asked])
    const offered = Object.keys(camera.capabilities ?? {})
    expect(asked.filter((name) => !offered.includes(name))).toEqual([])
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
  },
)

test('a track that lies (locked by its settings, drifting in the picture) is found out', async ({
  visit,
  context,
}) => {
  const page = await live(visit, context, { capabilities: EVERYTHING, settings: AUTOMATIC })
  await page.waitForTimeout(4000)
  expect(await fact(page, 'White balance').textContent()).toBe('locked on 6500 K')
  await page.evaluate(() => {
    ;(globalThis as unknown as { stub: Stub }).stub.drift = [-0.0008, 0.0008]
  })
  await page.getByText('but the picture drifts').waitFor({ timeout: patient(30_000) })
  await page.getByText('White balance is not locked').waitFor()
})

test('a grey card in the picture takes automatic white balance out and goes with the reading', async ({
  visit,
  context,
}) => {
  const page = await live(visit, context, { settings: AUTOMATIC })
  const bare = await figure(page)
  await page.getByLabel('Grey card').selectOption('here')
  const picture = page.locator('.live_live-picture')
  const box = (await picture.boundingBox()) as { width: number; height: number }
  await picture.click({ position: { x: (570 / 640) * box.width, y: (285 / 360) * box.height } })
  await page.getByText('The card is measured in every frame').waitFor()
  expect(await page.getByText('White balance is not locked').count()).toBe(0)
  await expect.poll(async () => (await figure(page)).plusMinus).toBeLessThan(bare.plusMinus)
  const before = await figure(page)
  // 8 % of codes is 18 % of light: without the card some 50 K.
  await page.evaluate(() => {
    ;(globalThis as unknown as { stub: Stub }).stub.gains = [0.92, 1.05]
  })
  await page.waitForTimeout(2500)
  const after = await figure(page)
  expect(Math.abs(after.value - before.value)).toBeLessThanOrEqual(20)
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  // Put beside the card the frame does not count, and says so.
  await picture.click({ position: { x: 0.5 * box.width, y: 0.5 * box.height } })
  await page.getByText('The grey card does not count yet').waitFor()
  await page.getByText('White balance is not locked').waitFor()
})

test('a permission taken back while live is told, and stops the track', async ({
  visit,
  context,
}) => {
  const page = await live(visit, context, {})
  await page.evaluate(() => {
    const { permission } = (globalThis as unknown as { stub: Stub }).stub
    permission.state = 'denied'
    permission.dispatchEvent(new Event('change'))
  })
  await page.getByText('The camera was not allowed').waitFor()
  expect(await page.getByRole('link', { name: 'Open a photo' }).isVisible()).toBe(true)
  expect(await stubOf(page, (stub) => stub.tracks.map((t) => t.readyState))).toEqual(['ended'])
})

test('a call that mutes the track takes the figure away until it is over', async ({
  visit,
  context,
}) => {
  const page = await live(visit, context, {})
  await page.evaluate(() => {
    const [track] = (globalThis as unknown as { stub: Stub }).stub.tracks as [MediaStreamTrack]
    Object.defineProperty(track, 'muted', { value: true, configurable: true })
    track.enabled = false
    track.dispatchEvent(new Event('mute'))
    // A muted source gives no frames: neither does this one.
    HTMLVideoElement.prototype.requestVideoFrameCallback = () => 0
  })
  await page.getByText('No pictures: a call or another app has the camera.').waitFor()
  expect(await page.locator('.live_live-readout .plus-minus').count()).toBe(0)
})

test('a turned phone goes on reading', async ({ visit, context }) => {
  const page = await live(visit, context, {})
  await page.setViewportSize({ width: 844, height: 390 })
  await page.evaluate(() => {
    ;(globalThis as unknown as { stub: Stub }).stub.size = [360, 640]
  })
  await expect
    .poll(() => page.locator('.live_live-picture svg').getAttribute('viewBox'))
    .toBe('0 0 360 640')
  const isTrue = async () => {
    const { value, plusMinus } = await figure(page)
    return Math.abs(value + 273.15 - TRUTH_K) <= plusMinus
  }
  await expect.poll(isTrue).toBe(true)
  expect(await axe(page)).toEqual([])
})

test('shutter keys save with a tick, also after a button was tapped', async ({
  visit,
  context,
}) => {
  await context.addInitScript(() => {
    const ticks: unknown[] = []
    Object.assign(globalThis, { ticks })
    navigator.vibrate = (pattern) => ticks.push(pattern) > 0
  })
  const page = await live(visit, context, {})
  await page.getByLabel('Surface').selectOption('steel-oxidised')
  const dim = page.getByRole('button', { name: 'Dim', exact: true })
  await dim.tap()
  expect(await dim.getAttribute('aria-pressed')).toBe('true')
  for (const key of ['AudioVolumeUp', 'VolumeDown', 'Enter']) {
    await page.evaluate(
      (name) =>
        (document.activeElement ?? document.body).dispatchEvent(
          new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }),
        ),
      key,
    )
    // One at a time: a key while it is still saving saves nothing.
    await page.waitForTimeout(300)
    await page.locator('.live_live-save:enabled', { hasText: /^Save$/ }).waitFor()
  }
  expect(await dim.getAttribute('aria-pressed')).toBe('true')
  expect(await page.evaluate(() => (globalThis as unknown as { ticks: unknown[] }).ticks)).toEqual([
    30, 30, 30,
  ])
  await lead(page, '/log')
  await expect.poll(() => page.locator('.log_log-row').count()).toBe(3)
})

test('a screen that may go dark is told; hidden and back, the band and the series go on', async ({
  visit,
  context,
}) => {
  await context.addInitScript(() => {
    // about:blank has none.
    if (navigator.wakeLock)
      navigator.wakeLock.request = () => Promise.reject(new DOMException('low', 'NotAllowedError'))
  })
  const page = await live(visit, context, {})
  await page.getByText('The screen may go dark').waitFor()
  await page.getByText('Target band').click()
  await page.getByLabel(/^From/).fill('700')
  await page.getByLabel(/^To/).fill('1400')
  await page.getByLabel(/^To/).blur()
  await page.locator('.live_band-place', { hasText: 'Inside' }).waitFor()
  await page.getByLabel('Surface').selectOption('steel-oxidised')
  await page.getByText('Series', { exact: true }).click()
  await page.getByLabel('Save every, s').fill('1')
  await page.getByRole('button', { name: 'Start series' }).click()
  await page.getByText(/Series: [1-9] saved/).waitFor()
  await show(page, 'hidden')
  await page.locator('video').waitFor({ state: 'detached' })
  expect(await stubOf(page, (stub) => stub.tracks.map((t) => t.readyState))).toEqual(['ended'])
  await show(page, 'visible')
  await figure(page)
  await page.locator('.live_band-place', { hasText: 'Inside' }).waitFor()
  await page.getByText(/Series: [3-9] saved/).waitFor()
  await page.getByRole('link', { name: 'Chart' }).click()
  await expect
    .poll(() => stubOf(page, (stub) => stub.tracks.map((t) => t.readyState)))
    .toEqual(['ended', 'ended'])
})
