import { PhotoRefused } from '../files/photo-refusal.ts'
import forgeBar from './forge-bar.data.json'

/** What is true of a simulated photo. Regions in pixels of the photo. */
export interface PracticeTruth {
  readonly simulated: true
  /** Temperature of the even part of the glow and its standard deviation over it, K. */
  readonly temperatureK: number
  readonly spreadK: number
  readonly surface: 'black body'
  readonly glowRegion: PracticeRegion
  readonly cardRegion: PracticeRegion
  readonly lightOnCard: { readonly kind: 'daylight'; readonly illuminant: 'D65' }
  /** What the simulated camera's white balance was locked on. */
  readonly balanceState: 'daylight'
  readonly width: number
  readonly height: number
}

interface PracticeRegion {
  readonly shape: 'rectangle'
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/**
 * The practice photo that ships with the app: a simulated bar at heat beside a grey card.
 *
 * @throws PhotoRefused 'practice missing' where it was not kept for offline use and there is no
 *   network
 */
export async function loadPracticePhoto(): Promise<{ blob: Blob; truth: PracticeTruth }> {
  const address = `${import.meta.env.BASE_URL}practice/forge-bar.jpg`
  const response = await fetch(address).catch(() => null)
  if (!response?.ok) throw new PhotoRefused({ code: 'practice missing' })
  return { blob: await response.blob(), truth: forgeBar as PracticeTruth }
}
