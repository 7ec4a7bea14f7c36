import type { Page } from 'playwright-core'

/** As when another tab, or another app, comes before it, and back. */
export const show = (page: Page, state: 'visible' | 'hidden') =>
  page.evaluate((value) => {
    Object.defineProperty(document, 'visibilityState', { value, configurable: true })
    document.dispatchEvent(new Event('visibilitychange'))
  }, state)

/** Keeps the track that the page asks for where the test can see it. */
export const watchTrack = (page: Page) =>
  page.evaluate(() => {
    const media = navigator.mediaDevices
    const ask = media.getUserMedia.bind(media)
    media.getUserMedia = async (wanted) => {
      const stream = await ask(wanted)
      Object.assign(globalThis, { track: stream.getVideoTracks()[0] })
      return stream
    }
  })

export const trackState = (page: Page) =>
  page.evaluate(() => (globalThis as unknown as { track: MediaStreamTrack }).track.readyState)
