import type { BrowserContext } from 'playwright-core'
import { glowCodes } from './live-video.ts'

/** What a stubbed track offers and does. */
export interface StubCamera {
  readonly capabilities?: Record<string, unknown>
  readonly settings?: Record<string, unknown>
  /** Constraint names that reject, and names that are taken and change nothing. */
  readonly rejects?: readonly string[]
  readonly ignores?: readonly string[]
}

/** What the test says to the page: `stub` in the page's globals. */
export interface Stub {
  /** Gains of white balance on R and B codes. */
  gains: [number, number]
  /** Gains that change by so much with each frame: white balance at work. */
  drift: [number, number]
  size: [number, number]
  readonly asked: string[]
  readonly tracks: MediaStreamTrack[]
  readonly permission: EventTarget & { state: string }
}

/**
 * Puts a camera into every page before its scripts: a canvas of walls, a glow and a grey card as a
 * stream, its track with capabilities, settings and constraints of the test's choice.
 */
export async function stubCamera(
  context: BrowserContext,
  camera: StubCamera,
  temperatureK: number,
): Promise<void> {
  await context.addInitScript(install, { camera, glow: [...glowCodes(temperatureK, 0.5)] })
}

function install({ camera, glow }: { camera: StubCamera; glow: number[] }): void {
  // about:blank has no cameras.
  if (!navigator.mediaDevices) return
  const { capabilities = {}, rejects = [], ignores = [] } = camera
  const permission = Object.assign(new EventTarget(), { state: 'granted' })
  const stub: Stub = {
    gains: [1, 1],
    drift: [0, 0],
    size: [640, 360],
    asked: [],
    tracks: [],
    permission,
  }
  Object.assign(globalThis, { stub })
  const query = navigator.permissions.query.bind(navigator.permissions)
  navigator.permissions.query = async (which) =>
    (which.name as string) === 'camera' ? (permission as unknown as PermissionStatus) : query(which)
  navigator.mediaDevices.getUserMedia = async () => {
    const canvas = document.createElement('canvas')
    const context = canvas.getContext('2d', { alpha: false }) as CanvasRenderingContext2D
    const draw = () => {
      const [width, height] = stub.size
      if (canvas.width !== width || canvas.height !== height)
        Object.assign(canvas, { width, height })
      stub.gains = [stub.gains[0] + stub.drift[0], stub.gains[1] + stub.drift[1]]
      const paint = (r = 0, g = 0, b = 0, x = 0, y = 0, w = width, h = height) => {
        context.fillStyle = `rgb(${r * stub.gains[0]} ${g} ${b * stub.gains[1]})`
        context.fillRect(x, y, w, h)
      }
      paint(40, 40, 40)
      const [r, g, b] = glow
      paint(r, g, b, width / 2 - 100, height / 2 - 60, 200, 120)
      paint(130, 130, 130, width - 120, height - 130, 100, 110)
    }
    draw()
    const stream = canvas.captureStream(15)
    const [track] = stream.getVideoTracks() as [MediaStreamTrack]
    const timer = setInterval(() => {
      if (track.readyState === 'ended') clearInterval(timer)
      else draw()
    }, 66)
    const settings: Record<string, unknown> = { ...camera.settings }
    track.getCapabilities = () => capabilities as MediaTrackCapabilities
    track.getSettings = () => ({ ...settings }) as MediaTrackSettings
    track.applyConstraints = async (wanted) => {
      for (const set of wanted?.advanced ?? [])
        for (const [name, value] of Object.entries(set)) {
          stub.asked.push(name)
          // As browsers do: one name that is not supported rejects the whole call.
          if (rejects.includes(name) || !(name in capabilities))
            throw new DOMException(name, 'OverconstrainedError')
          if (!ignores.includes(name)) settings[name] = value
        }
    }
    stub.tracks.push(track)
    return stream
  }
}
