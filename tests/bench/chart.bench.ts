import type { Browser, CDPSession, Page } from 'playwright-core'
import { launchBrowser, phone, standing } from '../browser/browser.ts'
import { type Bench, type Figure, median } from './figure.ts'

/** CPU throttling that stands for a phone. */
const THROTTLE = 4
/** One frame at 60 Hz, ms. */
const FRAME_MS = 16

type Move = (typeof MOVES)[number]
const MOVES = [
  'pointer',
  'zoom by wheel',
  'zoom and pan by two fingers',
  'view',
  'surface',
  'room light',
  'marks',
] as const

/**
 * Whole redraws of the chart in the built app: the script that an event starts, style, layout and
 * paint on the main thread, from the event to the end of the frame that shows it.
 */
export const bench: Bench = async ({ short, url }) => {
  const browser = await launchBrowser()
  try {
    const figures: Figure[] = []
    const frames = short ? 12 : 120
    const tell = (name: string, ms: readonly number[]) => {
      const timed = { unit: 'ms', timed: true, target: { atMost: FRAME_MS } } as const
      figures.push(
        {
          name: `chart, ${name}: median of ${ms.length} redraws, ${THROTTLE}x`,
          ...timed,
          value: median(ms),
        },
        { name: `chart, ${name}: worst`, unit: 'ms', timed: true, value: Math.max(...ms) },
      )
    }
    const page = await open(browser, url)
    const session = await page.context().newCDPSession(page)
    for (const move of MOVES) tell(move, await redraws(page, session, move, frames))
    await page.getByRole('button', { name: 'This camera' }).click()
    await page
      .getByText(/typical camera/)
      .first()
      .waitFor()
    tell('pointer in the view of a camera', await redraws(page, session, 'pointer', frames))
    await page.getByRole('button', { name: 'Practice' }).click()
    await page.locator('.chart_match-strip').waitFor()
    await page
      .getByText(/typical camera/)
      .first()
      .waitFor()
    tell('pointer beside a live picture', await redraws(page, session, 'pointer', frames))
    return figures
  } finally {
    await browser.close()
  }
}

async function open(browser: Browser, url: string): Promise<Page> {
  const page = await (await browser.newContext(phone)).newPage()
  await page.goto(`${url}/chart`)
  await standing(page)
  await page.locator('.chart_chart-picture canvas').waitFor()
  await page.getByText('Surface, room light, steps').click()
  return page
}

async function redraws(
  page: Page,
  session: CDPSession,
  move: Move,
  frames: number,
): Promise<number[]> {
  const slow = (rate: number) => session.send('Emulation.setCPUThrottlingRate', { rate })
  // Compilers warm up on a phone as well: the first moves are not counted.
  await page.evaluate(run, [move, 10] as const)
  await slow(THROTTLE)
  const ms = await page.evaluate(run, [move, frames] as const)
  await slow(1)
  return ms
}

/**
 * Runs in the page. An event given inside a frame's callback is drawn in that frame; a message posted
 * there arrives after the frame's style, layout and paint.
 */
async function run([move, count]: readonly [Move, number]): Promise<number[]> {
  const slider = document.querySelector<HTMLElement>('[role=slider]')!
  const box = slider.getBoundingClientRect()
  // Pointers that are made up cannot be captured.
  slider.setPointerCapture = () => undefined
  const pointer = (type: string, pointerId: number, share: number) =>
    slider.dispatchEvent(
      new PointerEvent(type, {
        pointerId,
        clientX: box.left + 90,
        clientY: box.top + share * box.height,
        bubbles: true,
      }),
    )
  const options = (label: string) =>
    [...document.querySelectorAll('label')]
      .find((each) => each.textContent?.startsWith(label))!
      .querySelector('select')!
  const choose = (select: HTMLSelectElement, i: number) => {
    select.selectedIndex = i % select.options.length
    select.dispatchEvent(new Event('change', { bubbles: true }))
  }
  const wave = (i: number) => 0.5 + 0.45 * Math.sin(i / 7)
  const moves: Record<Move, (i: number) => void> = {
    pointer: (i) => pointer('pointermove', 1, wave(i)),
    'zoom by wheel': (i) =>
      slider.dispatchEvent(
        new WheelEvent('wheel', {
          deltaY: Math.floor(i / 8) % 2 === 0 ? -1 : 1,
          clientY: box.top + 200,
          cancelable: true,
        }),
      ),
    'zoom and pan by two fingers': (i) =>
      pointer('pointermove', 1 + (i % 2), wave(i + 9 * (i % 2))),
    view: (i) => document.querySelectorAll<HTMLElement>('.segments button')[i % 2]!.click(),
    surface: (i) => choose(options('Surface'), i),
    'room light': (i) => choose(options('Room light'), i),
    marks: (i) => choose(options('Beside the colours'), i),
  }
  if (move === 'pointer') pointer('pointerdown', 1, 0.5)
  if (move === 'zoom and pan by two fingers') {
    pointer('pointerdown', 1, 0.4)
    pointer('pointerdown', 2, 0.6)
  }
  const ms: number[] = []
  for (let i = 0; i < count; i++) {
    await new Promise<void>((done) => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel()
        const began = performance.now()
        port1.onmessage = () => {
          ms.push(performance.now() - began)
          port1.close()
          // What is left for after the paint belongs to no redraw.
          setTimeout(done, 50)
        }
        moves[move](i)
        port2.postMessage(null)
      })
    })
  }
  for (const pointerId of [1, 2]) pointer('pointerup', pointerId, 0.5)
  return ms
}
