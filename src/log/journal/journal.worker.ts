/// <reference lib="webworker" />
import { answerJournal } from './calls.ts'
import type { JournalFiles } from './files.ts'
import { keepJournal } from './keeper.ts'

/** The origin's private file system: only a worker can flush what it writes there. */
async function privateFiles(name: string): Promise<JournalFiles> {
  const root = await navigator.storage.getDirectory()
  const folder = await root.getDirectoryHandle(`${name} journal`, { create: true })
  const segments = await folder.getDirectoryHandle('segments', { create: true })
  const pictures = await folder.getDirectoryHandle('pictures', { create: true })

  const names = async (of: FileSystemDirectoryHandle) => {
    const all: string[] = []
    for await (const entry of of.keys()) all.push(entry)
    return all
  }
  const remove = (of: FileSystemDirectoryHandle, entry: string) =>
    of.removeEntry(entry).catch((error: unknown) => {
      if (!isMissing(error)) throw error
    })

  return {
    segments: () => names(segments),
    read: async (segment) => (await segments.getFileHandle(segment)).getFile(),
    async hold(segment) {
      const handle = await segments.getFileHandle(segment, { create: true })
      const file = await handle.createSyncAccessHandle().catch((error: unknown) => {
        if (error instanceof DOMException && error.name === 'NoModificationAllowedError')
          return null
        throw error
      })
      if (file === null) return null
      let at = file.getSize()
      return {
        get size() {
          return at
        },
        async truncate(size) {
          file.truncate(size)
          at = size
        },
        async append(bytes) {
          at += writeWhole(file, bytes, at)
        },
        async flush() {
          file.flush()
        },
        async close() {
          file.close()
        },
      }
    },
    removeSegment: (segment) => remove(segments, segment),
    async putPicture(picture, bytes) {
      const handle = await pictures.getFileHandle(picture, { create: true })
      const file = await handle.createSyncAccessHandle()
      try {
        writeWhole(file, bytes, 0)
        file.truncate(bytes.length)
        file.flush()
      } finally {
        file.close()
      }
    },
    async picture(picture) {
      const handle = await pictures.getFileHandle(picture).catch(() => undefined)
      return handle && new Uint8Array(await (await handle.getFile()).arrayBuffer())
    },
    pictures: () => names(pictures),
    removePicture: (picture) => remove(pictures, picture),
  }
}

/** A full disk takes a part of the bytes, or none, without an error: it is told by these words. */
function writeWhole(file: FileSystemSyncAccessHandle, bytes: Uint8Array, at: number): number {
  const written = file.write(bytes as Uint8Array<ArrayBuffer>, { at })
  if (written !== bytes.length) throw new Error(`no space: ${written} of ${bytes.length} bytes`)
  return written
}

const isMissing = (error: unknown) =>
  error instanceof DOMException && error.name === 'NotFoundError'

answerJournal(async (name) => keepJournal(await privateFiles(name), () => crypto.randomUUID()))
