/**
 * A file leaves the app: by the system's share sheet where there is one, as a download elsewhere.
 * Chunks are turned into Blob pieces as they come; the browser keeps those outside of the script's
 * memory, so that an export of any length costs about a megabyte of it.
 */

const PIECE_BYTES = 1 << 20

/** Collects chunks into a file. Rejects with what the chunks reject with (a stop, a failure). */
export async function fileFrom(
  chunks: AsyncIterable<Uint8Array>,
  name: string,
  type: string,
): Promise<File> {
  const pieces: Blob[] = []
  let waiting: Uint8Array<ArrayBuffer>[] = []
  let bytes = 0
  const settle = () => {
    pieces.push(new Blob(waiting))
    waiting = []
    bytes = 0
  }
  for await (const chunk of chunks) {
    // Copied: a chunk may be a window on a buffer that its maker uses again.
    waiting.push(chunk.slice())
    bytes += chunk.length
    if (bytes >= PIECE_BYTES) settle()
  }
  settle()
  return new File(pieces, name, { type })
}

export const FILE_TYPES = {
  csv: 'text/csv',
  json: 'application/json',
  kit: 'application/json',
  zip: 'application/zip',
} as const

/** A name that sorts by date: glowbook-log-2025-03-01.zip. */
export function fileName(format: keyof typeof FILE_TYPES, date: string): string {
  const what = format === 'kit' ? 'kit' : 'log'
  const ending = format === 'kit' ? 'json' : format
  return `glowbook-${what}-${date.slice(0, 10)}.${ending}`
}

/** Has the system a share sheet that takes this file? */
export function canShare(file: File): boolean {
  return typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] })
}

export type Leaving =
  | 'shared'
  | 'downloaded'
  /** The person closed the share sheet. */
  | 'dismissed'

/**
 * Shares or downloads. To be called from a tap: browsers open the share sheet only then (after a
 * long export the tap is over; show the finished file with a button of its own).
 */
export async function saveOrShare(file: File): Promise<Leaving> {
  if (canShare(file)) {
    try {
      await navigator.share({ files: [file], title: file.name })
      return 'shared'
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return 'dismissed'
      // Not allowed here or not of this kind after all: the file is not lost for that.
    }
  }
  download(file)
  return 'downloaded'
}

function download(file: File): void {
  const address = URL.createObjectURL(file)
  const link = document.createElement('a')
  link.href = address
  link.download = file.name
  link.hidden = true
  document.body.append(link)
  link.click()
  link.remove()
  // The browser reads the file after this turn; a minute is enough for it to have begun.
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
}
