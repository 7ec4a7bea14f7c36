import { encodeRgba } from './encode-picture.ts'

const ROUNDS = 3
/** Large enough that only a part of the pixels is looked at, as of a photo. */
const WIDTH = 960
const HEIGHT = 720

/**
 * Has a picture of a bar at heat read a few times and drops the results: the first run of cold code
 * takes a phone four times as long as the later ones, and a person is choosing a photo meanwhile.
 *
 * @param read opens a photo, finds its glow and measures it, apart from any photo that is open
 */
export async function warmUpDecoder(read: (photo: Blob) => Promise<void>): Promise<null> {
  const photo = await encodeRgba(barAtHeat(), WIDTH, HEIGHT, 'srgb')
  for (let round = 0; round < ROUNDS; round++) await read(photo)
  return null
}

/** RGBA codes: a bar with soft edges across the middle of a dark shop. */
function barAtHeat(): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(4 * WIDTH * HEIGHT)
  for (let y = 0, at = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, at += 4) {
      const across = Math.abs(y / HEIGHT - 0.5) / 0.1
      const along = Math.abs(x / WIDTH - 0.5) / 0.4
      const glow = Math.max(0, 1 - across ** 6) * Math.max(0, 1 - along ** 6)
      rgba[at] = 16 + 200 * glow
      rgba[at + 1] = 16 + 70 * glow
      rgba[at + 2] = 16 + 4 * glow
      rgba[at + 3] = 255
    }
  }
  return rgba
}
