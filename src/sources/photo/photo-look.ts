/** A first look at a photo among several: what it is of, before anything is measured. */
import type { GlowProposal } from '../../light/find-glow.ts'
import type { Channels } from '../../light/image.ts'
import { exposureFromFacts, type PhotoFacts } from '../files/photo-facts.ts'
import { openPicture } from '../open-picture.ts'

export interface PhotoLook {
  readonly file: File
  readonly name: string
  readonly width: number
  readonly height: number
  readonly channels: Channels
  readonly facts: PhotoFacts
  /** Relative exposure by the file's own record; null where it does not say. */
  readonly exposure: number | null
  readonly glow: GlowProposal
  /** Share of the picture that is bright and without colour, 0..1: a grey card or paper. */
  readonly neutralShare: number
  /** What that part fills, as shares of width and height; null where there is none. */
  readonly neutralBox: NeutralBox | null
}

export interface NeutralBox {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A picture of few cells says enough of what is grey. */
const COLUMNS = 32
const ROWS = 24
/** Codes 0..255: brighter than this, and the channels no further apart than a lamp's colour makes them. */
const BRIGHT = 60
const COLOURED = 0.45

/**
 * Opens a photo, looks at it and closes it again.
 *
 * @throws PhotoRefused, AbortError; see openPicture
 */
export async function lookAtPhoto(file: File, signal?: AbortSignal): Promise<PhotoLook> {
  const photo = await openPicture(file, signal ? { signal } : {})
  try {
    const { width, height, channels, facts, glow } = photo
    return {
      file,
      name: file.name,
      width,
      height,
      channels,
      facts,
      exposure: exposureFromFacts(facts),
      glow,
      ...(await neutralPartOf(photo.pictureUrl)),
    }
  } finally {
    photo.close()
  }
}

type NeutralPart = Pick<PhotoLook, 'neutralShare' | 'neutralBox'>

async function neutralPartOf(url: string): Promise<NeutralPart> {
  const picture = new Image()
  picture.src = url
  await picture.decode()
  const canvas = document.createElement('canvas')
  canvas.width = COLUMNS
  canvas.height = ROWS
  const context = canvas.getContext('2d', { willReadFrequently: true })
  if (!context) return { neutralShare: 0, neutralBox: null }
  context.drawImage(picture, 0, 0, COLUMNS, ROWS)
  return neutralPart(context.getImageData(0, 0, COLUMNS, ROWS).data)
}

/** @param data RGBA of {@link COLUMNS} by {@link ROWS} cells */
function neutralPart(data: Uint8ClampedArray): NeutralPart {
  let neutral = 0
  let [left, top, right, bottom] = [COLUMNS, ROWS, 0, 0]
  for (let i = 0, cell = 0; i < data.length; i += 4, cell++) {
    const [red, green, blue] = [data[i]!, data[i + 1]!, data[i + 2]!]
    const high = Math.max(red, green, blue)
    if (high <= BRIGHT || high - Math.min(red, green, blue) >= COLOURED * high) continue
    neutral++
    const [x, y] = [cell % COLUMNS, Math.floor(cell / COLUMNS)]
    left = Math.min(left, x)
    right = Math.max(right, x + 1)
    top = Math.min(top, y)
    bottom = Math.max(bottom, y + 1)
  }
  const neutralShare = neutral / (COLUMNS * ROWS)
  if (neutral === 0) return { neutralShare, neutralBox: null }
  return {
    neutralShare,
    neutralBox: {
      x: left / COLUMNS,
      y: top / ROWS,
      width: (right - left) / COLUMNS,
      height: (bottom - top) / ROWS,
    },
  }
}
