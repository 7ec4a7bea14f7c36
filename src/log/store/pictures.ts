import { crc32 } from '../crc32.ts'
import { LogError } from '../schema/errors.ts'
import { PICTURE_TYPES, type PictureFacts } from '../schema/reading-schema.ts'
import type { NewPicture, StoredPicture } from '../schema/types.ts'
import { withoutMetadata } from './picture-metadata.ts'

/** A small picture of a region is a few ten kB; this is a bound against mistakes and hostile files. */
export const PICTURE_BYTES_MOST = 4_000_000

/** Bytes to keep of a picture: no metadata, with their check sum. */
export async function pictureFrom({ blob, width, height }: NewPicture): Promise<StoredPicture> {
  const type = PICTURE_TYPES.find((known) => known === blob.type)
  if (type === undefined) throw notAPicture(`type ${blob.type || 'unknown'}`)
  if (blob.size > PICTURE_BYTES_MOST) throw notAPicture(`${blob.size} bytes`)
  const bytes = withoutMetadata(new Uint8Array(await blob.arrayBuffer()), type)
  if (bytes === undefined) throw notAPicture(`no ${type}`)
  const facts: PictureFacts = { type, width, height, bytes: bytes.length, crc32: crc32(bytes) }
  return { facts, bytes }
}

/** Do these bytes belong to these facts? */
export function isPictureOf(facts: PictureFacts, bytes: Uint8Array): boolean {
  return facts.bytes === bytes.length && facts.crc32 === crc32(bytes)
}

function notAPicture(detail: string): LogError {
  return new LogError({ code: 'not a picture', detail })
}
