import { type FlatFieldResult, flatFieldOf } from '../../light/flat-field.ts'
import { openPicture } from '../../sources/open-picture.ts'
import { deviceIdOf } from '../reading/photo-meaning.ts'
import type { StoredFlatField } from './camera-data.ts'

export type FlatFieldPhoto =
  | { readonly kind: 'measured'; readonly kept: StoredFlatField }
  | { readonly kind: 'other camera' }
  | Extract<FlatFieldResult, { kind: 'refused' }>

/**
 * The flat field of a camera's lens from a photo of a white sheet. A photo that names no camera is
 * taken for one of this.
 *
 * @throws PhotoRefused; see openPicture
 */
export async function flatFieldFromPhoto(
  file: File,
  device: string,
  now: Date,
): Promise<FlatFieldPhoto> {
  const photo = await openPicture(file)
  try {
    const { channels, facts } = photo
    const of = deviceIdOf(facts)
    if (of !== '' && of !== device) return { kind: 'other camera' }
    const result = flatFieldOf(await photo.lightMap(), channels)
    if (result.kind === 'refused') return result
    const at = now.toISOString()
    return { kind: 'measured', kept: { lens: facts.lens, channels, at, field: result.field } }
  } finally {
    photo.close()
  }
}
