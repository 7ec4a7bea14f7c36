import { type PhotoRefusal, PhotoRefused } from './files/photo-refusal.ts'
import type { OpenOptions, Photo } from './photo/photo.ts'
import { openPhoto } from './photo/photo-client.ts'

/**
 * Opens a picture file by what it is: an ordinary photo, or a raw one (DNG), whose part of the app is
 * loaded only then. A name that ends in .dng saves the look at it as an ordinary photo.
 *
 * @throws PhotoRefused (a rejection), AbortError; see openPhoto
 */
export async function openPicture(blob: Blob, options: OpenOptions = {}): Promise<Photo> {
  const openRaw = async () => (await import('./raw/raw-client.ts')).openRaw(blob, options)
  const isRaw = (error: unknown) =>
    error instanceof PhotoRefused && error.refusal.code === 'raw file'
  if (!(blob instanceof File && /\.dng$/i.test(blob.name))) {
    return openPhoto(blob, options).catch((error: unknown) => {
      if (isRaw(error)) return openRaw()
      throw error
    })
  }
  return openRaw().catch((asRaw: unknown) => {
    // Named so, and no DNG: what the reader of ordinary photos makes of it.
    if (!(asRaw instanceof PhotoRefused && isNoDng(asRaw.refusal))) throw asRaw
    return openPhoto(blob, options)
  })
}

const isNoDng = (refusal: PhotoRefusal) =>
  refusal.code === 'not a photo' || (refusal.code === 'foreign raw' && refusal.reason === 'no dng')
