/** What of the recordings is shown, by the address behind `/log/`. */
export type RecordingPlace =
  | { readonly kind: 'list' }
  | { readonly kind: 'video' }
  | { readonly kind: 'one'; readonly id: string }
  | { readonly kind: 'overlay'; readonly ids: readonly string[] }

const NAME = 'recordings'

export const isRecordingPlace = (rest: string): boolean => rest.split('/')[0] === NAME

/** `recordings/a` -> one; `recordings/a/b` -> both on one plot. */
export function recordingPlace(rest: string): RecordingPlace {
  const [, ...ids] = rest.split('/').filter(Boolean)
  const [first, second] = ids
  if (!first) return { kind: 'list' }
  if (first === 'video') return { kind: 'video' }
  return second ? { kind: 'overlay', ids } : { kind: 'one', id: first }
}

export const restOfRecordings = (...ids: readonly string[]): string => [NAME, ...ids].join('/')

export const hrefOfRecordings = (...ids: readonly string[]): string =>
  `/log/${encodeURIComponent(restOfRecordings(...ids))}`
