import { PhotoRefused } from './files/photo-refusal.ts'
import type { OpenOptions, Photo } from './photo/photo.ts'
import { openPhoto } from './photo/photo-client.ts'

/**
 * Opens a picture file by what it is: an ordinary photo, or a raw one (DNG), whose part of the app is
 * loaded only then.
 *
 * @throws PhotoRefused (a rejection), AbortError; see openPhoto
 */
export async function openPicture(blob: Blob, options: OpenOptions = {}): Promise<Photo> {
  try {
    return await openPhoto(blob, options)
  } catch (error) {
    if (!(error instanceof PhotoRefused && error.refusal.code === 'raw-file')) throw error
    const { openRaw } = await import('./raw/raw-client.ts')
    return openRaw(blob, options)
  }
}
