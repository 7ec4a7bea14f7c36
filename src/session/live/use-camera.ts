import { type Signal, useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { type CameraEnd, CameraRefused, type LiveCamera } from '../../sources/live/live-camera.ts'
import { openCamera } from '../../sources/live/open-camera.ts'

/** What a screen does with a camera; it owns the camera and closes it. */
export interface CameraUse {
  readonly camera: LiveCamera
  lock(): Promise<void>
  dispose(): void
}

export interface HeldCamera<Use extends CameraUse> {
  readonly use: Signal<Use | null>
  readonly refusal: Signal<CameraEnd | null>
  readonly opening: Signal<boolean>
  begin(open: () => LiveCamera | Promise<LiveCamera>): Promise<void>
  close(): void
}

/**
 * Holds a camera as long as it is looked at: its light goes off when it is closed, when the screen is
 * left and when the page is hidden. Seen again, a camera that was let go comes back by itself.
 */
export function useCamera<Use extends CameraUse>(
  take: (camera: LiveCamera) => Use,
): HeldCamera<Use> {
  const use = useSignal<Use | null>(null)
  const refusal = useSignal<CameraEnd | null>(null)
  const opening = useSignal(false)
  const left = useRef(false)
  const wanted = useRef(false)

  const close = () => {
    wanted.current = false
    use.peek()?.dispose()
    use.value = null
  }

  const begin = async (open: () => LiveCamera | Promise<LiveCamera>) => {
    if (opening.value) return
    close()
    opening.value = true
    refusal.value = null
    try {
      const camera = await open()
      // The person may have left, or hidden the page, while the browser was asking.
      if (left.current) return camera.close()
      if (camera.kind === 'camera' && document.visibilityState === 'hidden') {
        wanted.current = true
        return camera.close()
      }
      const opened = take(camera)
      camera.onEnd((why) => {
        close()
        refusal.value = why
      })
      use.value = opened
      await opened.lock()
    } catch (error) {
      refusal.value = error instanceof CameraRefused ? error.reason : 'failed'
    } finally {
      opening.value = false
    }
  }

  useEffect(() => {
    const onVisibility = () => {
      if (document.visibilityState === 'hidden') {
        if (use.peek()?.camera.kind !== 'camera') return
        close()
        wanted.current = true
      } else if (wanted.current) {
        wanted.current = false
        void begin(openCamera)
      }
    }
    document.addEventListener('visibilitychange', onVisibility)
    return () => {
      document.removeEventListener('visibilitychange', onVisibility)
      left.current = true
      close()
    }
  }, [])

  return { use, refusal, opening, begin, close }
}
