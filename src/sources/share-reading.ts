/** One reading as a picture, handed to the system's share sheet or, where there is none, as a file. */

/** What stands on the picture; sentences are made by those who call. */
export interface ReadingCard {
  /** "907 ± 22 °C" */
  readonly figure: string
  readonly object: string
  readonly when: string
  readonly caution: string
  /** The app and how it was read. */
  readonly foot: string
  /** CSS colours of the chart from cold to hot. */
  readonly strip: readonly string[]
  readonly ends: readonly [string, string]
  /** Place of the reading and of its interval on the strip, 0..1. */
  readonly at: number
  readonly range: readonly [number, number]
  readonly simulated: string | null
}

const WIDTH = 1080
const HEIGHT = 760
const EDGE = 64

/** Draws the card as a PNG. */
export async function drawReadingCard(card: ReadingCard): Promise<Blob> {
  const canvas = document.createElement('canvas')
  canvas.width = WIDTH
  canvas.height = HEIGHT
  const context = canvas.getContext('2d')
  if (!context) throw new Error('no drawing context')
  context.fillStyle = '#0e0c0b'
  context.fillRect(0, 0, WIDTH, HEIGHT)
  const write = (text: string, y: number, size: number, colour: string, weight = 400) => {
    context.font = `${weight} ${size}px system-ui, sans-serif`
    context.fillStyle = colour
    context.fillText(text, EDGE, y, WIDTH - 2 * EDGE)
  }
  write(card.object, 96, 44, '#c3b6aa')
  write(card.figure, 240, 132, '#f4ece4', 700)
  write([card.when, card.simulated].filter(Boolean).join(' · '), 310, 40, '#c3b6aa')
  const strip = { y: 400, height: 96, width: WIDTH - 2 * EDGE }
  const cell = strip.width / card.strip.length
  for (const [i, colour] of card.strip.entries()) {
    context.fillStyle = colour
    context.fillRect(EDGE + i * cell, strip.y, cell + 1, strip.height)
  }
  const place = (share: number) => EDGE + strip.width * Math.min(1, Math.max(0, share))
  context.fillStyle = '#f4ece4'
  const [from, to] = card.range
  context.fillRect(place(from), strip.y - 20, Math.max(4, place(to) - place(from)), 10)
  // An edge of its own: white heat is white.
  const pin = [place(card.at) - 3, strip.y - 28, 6, strip.height + 40] as const
  context.fillRect(...pin)
  context.strokeStyle = '#000'
  context.lineWidth = 2
  context.strokeRect(...pin)
  write(card.ends[0], 546, 34, '#c3b6aa')
  context.textAlign = 'right'
  context.fillText(card.ends[1], WIDTH - EDGE, 546)
  context.textAlign = 'left'
  write(card.caution, 628, 34, '#ffd23f')
  write(card.foot, 700, 30, '#c3b6aa')
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new Error('no picture could be made'))),
      'image/png',
    )
  })
}

/**
 * Opens the share sheet with picture and text.
 *
 * @returns 'shared', 'cancelled' by the person, or 'no sheet': the caller saves a file instead
 */
export async function shareReading(
  picture: Blob,
  name: string,
  text: string,
): Promise<'shared' | 'cancelled' | 'no sheet'> {
  const files = [new File([picture], name, { type: 'image/png' })]
  if (!navigator.canShare?.({ files, text })) return 'no sheet'
  try {
    await navigator.share({ files, text })
    return 'shared'
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return 'cancelled'
    return 'no sheet'
  }
}
