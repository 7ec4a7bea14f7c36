/**
 * A white balance at work moves from photo to photo of a sweep. A grey card in every photo, under a light
 * that stays as it is, says by how much.
 */
import type { Triple } from '../../numerics/matrix3.ts'
import { clippingLevels } from '../clipping-level.ts'
import type { StoredImage } from '../image.ts'
import { type CodingSteps, nominalLevels, regionCodes } from './frame-levels.ts'
import { bendAt, type Response } from './response.ts'

/** What the camera's balance did to one photo against the first one that counts. */
export interface CardGain {
  /** ln of the factors on R, G, B. Cameras hold green and move red and blue; common practice. */
  readonly lnGain: Triple
  /** Standard uncertainty of each. */
  readonly uncertainty: Triple
}

/** As in the frames themselves. */
const CLIPPED_SHARE = 0.01

/**
 * One gain a photo; null where the card is clipped or too dark to be read.
 *
 * @param cards the same piece of card in each photo, no edge in it
 * @param base the photo from which gains are counted: the one that the balance is measured in
 * @param response of the camera's tone curve, where it is known already; the curve hardly bends the
 *   colour of a card, and a first recovery by nominal codes is near enough to find it
 */
export function cardGains(
  cards: readonly StoredImage[],
  base: number,
  steps: CodingSteps,
  response: Response | null,
): readonly (CardGain | null)[] {
  const seen = cards.map((card) => cardLight(card, steps, response))
  const from = seen[base]
  if (!from) return cards.map(() => null)
  return seen.map((card) => {
    if (!card) return null
    const moved = (c: 0 | 2) => card.ln[c] - card.ln[1] - (from.ln[c] - from.ln[1])
    const sd = (c: 0 | 2) =>
      card === from ? 0 : Math.hypot(card.sd[c], card.sd[1], from.sd[c], from.sd[1])
    return { lnGain: [moved(0), 0, moved(2)], uncertainty: [sd(0), 0, sd(2)] }
  })
}

/** ln light of R, G, B with its uncertainty; null where one of them cannot be read. */
function cardLight(
  card: StoredImage,
  steps: CodingSteps,
  response: Response | null,
): { readonly ln: Triple; readonly sd: Triple } | null {
  const { width, height } = card
  const region = { shape: 'rectangle', x: 0, y: 0, width, height } as const
  const codes = regionCodes(card, region, clippingLevels(card).codes)
  const { nominal, uncertainty } = nominalLevels(codes, steps)
  const [r, g, b] = nominal
  if (r === null || g === null || b === null || codes.clippedShare > CLIPPED_SHARE) return null
  // A curve that keeps ratios keeps the card's colour.
  const straight = (u: number) => (response?.kind === 'channel' ? u + bendAt(response, u).value : u)
  return { ln: [straight(r), straight(g), straight(b)], sd: uncertainty }
}
