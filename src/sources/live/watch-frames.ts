import type { LiveCamera } from './live-camera.ts'

/** Without a frame for so long the stream stands still, ms. */
const STALLED_MS = 1500

/**
 * Calls back for each frame, and again and again while none comes: muted by a call, held by another
 * app. What was read last is then old. Returns the way to stop.
 */
export function watchFrames(
  camera: Pick<LiveCamera, 'onFrame' | 'onPause'>,
  { onFrame, onStall }: { readonly onFrame: () => void; readonly onStall: () => void },
  nowMs: () => number,
): () => void {
  let last = nowMs()
  const stops = [
    camera.onFrame(() => {
      last = nowMs()
      onFrame()
    }),
    camera.onPause((paused) => {
      if (paused) onStall()
    }),
  ]
  const timer = setInterval(() => {
    if (nowMs() - last > STALLED_MS) onStall()
  }, 500)
  return () => {
    clearInterval(timer)
    for (const stop of stops) stop()
  }
}
