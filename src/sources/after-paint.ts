/** Longest wait for a frame: a tab in the background draws none. */
const NO_FRAME_MS = 100

/** Resolves when what has just changed is on the screen: heavy work can then begin. */
export function afterPaint(): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, NO_FRAME_MS)
    if (typeof requestAnimationFrame !== 'function') return
    requestAnimationFrame(() => {
      clearTimeout(timer)
      // After the frame, not in it.
      setTimeout(resolve)
    })
  })
}
