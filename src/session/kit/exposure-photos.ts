/** Raw photos of one steady scene at several exposures, opened one after the other, and what they say. */
import {
  type ExposedScene,
  type ExposureTest,
  type ExposureTestRefusal,
  exposureTest,
} from '../../estimate/exposure-test.ts'
import { openPicture } from '../../sources/open-picture.ts'
import type { OpenOptions, Photo } from '../../sources/photo/photo.ts'
import { deviceIdOf } from '../reading/photo-meaning.ts'
import { MOST_EXPOSURES } from './kit-data.ts'

export type ExposurePhotosRefusal =
  | { readonly code: ExposureTestRefusal | 'too many' }
  | { readonly code: 'not raw' | 'exposure not stated' | 'another camera'; readonly name: string }
  | { readonly code: 'not read'; readonly name: string; readonly error: unknown }

export type ExposurePhotos =
  | Extract<ExposureTest, { kind: 'measured' }>
  | { readonly kind: 'refused'; readonly refusal: ExposurePhotosRefusal }

/**
 * @param device whose exposures are asked for, as files name it
 * @throws AbortError
 */
export async function readExposurePhotos(
  files: readonly File[],
  device: string,
  { signal, onProgress }: OpenOptions = {},
  open: (file: File, options: OpenOptions) => Promise<Photo> = openPicture,
): Promise<ExposurePhotos> {
  const refused = (refusal: ExposurePhotosRefusal): ExposurePhotos => ({ kind: 'refused', refusal })
  if (files.length > MOST_EXPOSURES) return refused({ code: 'too many' })
  const scenes: ExposedScene[] = []
  for (const [i, file] of files.entries()) {
    const { name } = file
    let photo: Photo
    try {
      photo = await open(file, signal ? { signal } : {})
    } catch (error) {
      if (signal?.aborted) throw error
      return refused({ code: 'not read', name, error })
    }
    try {
      const { exposureSeconds, iso, fNumber } = photo.facts
      if (photo.channels !== 'camera') return refused({ code: 'not raw', name })
      // A file that names no camera is of the one that the person says.
      const named = deviceIdOf(photo.facts)
      if (named !== '' && named !== device) return refused({ code: 'another camera', name })
      if (exposureSeconds === null || iso === null || fNumber === null)
        return refused({ code: 'exposure not stated', name })
      scenes.push({ exposure: { exposureSeconds, iso, fNumber }, map: await photo.lightMap() })
    } finally {
      photo.close()
    }
    signal?.throwIfAborted()
    onProgress?.((i + 1) / files.length)
  }
  const found = exposureTest(scenes)
  return found.kind === 'measured' ? found : refused({ code: found.reason })
}
