/** Hands a file to the person: the browser's download. */
export function saveFile(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob)
  const anchor = document.createElement('a')
  anchor.href = url
  anchor.download = name
  anchor.click()
  // The download has its own hold on the data once it has begun; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(url), 60_000)
}
