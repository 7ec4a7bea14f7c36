import { h, render } from 'preact'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { type CameraUse, type HeldCamera, useCamera } from '../../../src/session/live/use-camera.ts'
import { CameraRefused, type LiveCamera } from '../../../src/sources/live/live-camera.ts'

const onVisibility = new Set<() => void>()
let visibilityState = 'visible'
const turn = (state: 'visible' | 'hidden') => {
  visibilityState = state
  for (const listener of [...onVisibility]) listener()
}

beforeEach(() => {
  onVisibility.clear()
  visibilityState = 'visible'
  vi.stubGlobal('document', {
    get visibilityState() {
      return visibilityState
    },
    addEventListener: (_: string, listener: () => void) => onVisibility.add(listener),
    removeEventListener: (_: string, listener: () => void) => onVisibility.delete(listener),
  })
})

let leave = () => {}
// What an effect leaves behind is cleared after the next picture: before the page is taken away.
afterEach(async () => {
  leave()
  await expect.poll(() => onVisibility.size).toBe(0)
})

/** A screen that holds a camera. It draws nothing: a node without children is all it needs. */
async function screen() {
  let held: HeldCamera<CameraUse> | undefined
  const Screen = () => {
    held = useCamera((camera) => ({
      camera,
      lock: async () => void log.push('locked'),
      dispose: () => {
        log.push('disposed')
        camera.close()
      },
    }))
    return null
  }
  const log: string[] = []
  const page = { childNodes: [], firstChild: null, namespaceURI: null } as unknown as Element
  render(h(Screen, {}), page)
  leave = () => render(null, page)
  // Effects run after the picture is drawn.
  await expect.poll(() => onVisibility.size).toBe(1)
  const leaving = async () => {
    leave()
    await expect.poll(() => onVisibility.size).toBe(0)
  }
  let end = (_: string) => {}
  const camera = (kind = 'camera') =>
    ({
      kind,
      close: () => void log.push('closed'),
      onEnd: (listener: typeof end) => {
        end = listener
      },
    }) as unknown as LiveCamera
  return { held: held!, log, camera, end: (why: string) => end(why), leave: leaving }
}

describe('a camera that a screen holds', () => {
  test('is locked when it opens, and its light goes off when it is closed or the screen is left', async () => {
    const { held, log, camera, leave } = await screen()
    await held.begin(() => camera())
    expect(held.use.value).not.toBeNull()
    expect(log).toEqual(['locked'])
    held.close()
    expect(held.use.value).toBeNull()
    expect(log).toEqual(['locked', 'disposed', 'closed'])
    await held.begin(() => camera())
    await leave()
    expect(log.slice(3)).toEqual(['locked', 'disposed', 'closed'])
  })

  test('that opens after the screen was left is closed at once', async () => {
    const { held, log, camera, leave } = await screen()
    let give = (_: LiveCamera) => {}
    const opening = held.begin(() => new Promise((resolve) => (give = resolve)))
    expect(held.opening.value).toBe(true)
    await leave()
    give(camera())
    await opening
    expect(log).toEqual(['closed'])
    expect(held.use.value).toBeNull()
  })

  test('is let go while the page is hidden; the practice bench stays', async () => {
    const { held, log, camera } = await screen()
    await held.begin(() => camera('practice'))
    turn('hidden')
    expect(held.use.value).not.toBeNull()
    turn('visible')
    await held.begin(() => camera())
    turn('hidden')
    expect(held.use.value).toBeNull()
    expect(log.at(-1)).toBe('closed')
  })

  test('that opens while the page is hidden is closed at once', async () => {
    const { held, log, camera } = await screen()
    visibilityState = 'hidden'
    await held.begin(() => camera())
    expect(log).toEqual(['closed'])
    expect(held.use.value).toBeNull()
  })

  test('that ends by itself says why; one that is refused too', async () => {
    const { held, camera, end } = await screen()
    await held.begin(() => camera())
    end('taken away')
    expect(held.use.value).toBeNull()
    expect(held.refusal.value).toBe('taken away')
    await held.begin(() => Promise.reject(new CameraRefused('refused' as never)))
    expect(held.refusal.value).toBe('refused')
    await held.begin(() => Promise.reject(new Error('driver')))
    expect(held.refusal.value).toBe('failed')
    expect(held.opening.value).toBe(false)
    // Opened again, what was said before is gone.
    await held.begin(() => camera())
    expect(held.refusal.value).toBeNull()
  })

  test('is opened once, however often it is asked for meanwhile', async () => {
    const { held, log, camera } = await screen()
    let opened = 0
    const open = async () => {
      opened++
      return camera()
    }
    await Promise.all([held.begin(open), held.begin(open)])
    expect(opened).toBe(1)
    expect(log).toEqual(['locked'])
  })
})
