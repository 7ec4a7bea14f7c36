import type { JournalFiles } from '../../../src/log/journal/files.ts'
import { type Keeper, keepJournal } from '../../../src/log/journal/keeper.ts'

/** A private file system in memory, whose files outlive the tab that held them. */
export interface MemoryFiles extends JournalFiles {
  readonly content: Map<string, Uint8Array<ArrayBuffer>>
  readonly pictureBytes: Map<string, Uint8Array<ArrayBuffer>>
  /** From now on writing fails with these words. */
  fails: string | null
  /** The process is killed: nothing is held any more. */
  kill(): void
}

export function memoryFiles(): MemoryFiles {
  const content = new Map<string, Uint8Array<ArrayBuffer>>()
  const pictureBytes = new Map<string, Uint8Array<ArrayBuffer>>()
  const held = new Set<string>()
  const files: MemoryFiles = {
    content,
    pictureBytes,
    fails: null,
    kill: () => held.clear(),
    segments: async () => [...content.keys()],
    read: async (name) => new Blob([content.get(name)!]),
    async hold(name) {
      if (held.has(name)) return null
      held.add(name)
      if (!content.has(name)) content.set(name, new Uint8Array(0))
      return {
        get size() {
          return content.get(name)!.length
        },
        async truncate(size) {
          content.set(name, content.get(name)!.slice(0, size))
        },
        async append(bytes) {
          if (files.fails !== null) throw new Error(files.fails)
          const before = content.get(name)!
          const after = new Uint8Array(before.length + bytes.length)
          after.set(before)
          after.set(bytes, before.length)
          content.set(name, after)
        },
        async flush() {},
        async close() {
          held.delete(name)
        },
      }
    },
    async removeSegment(name) {
      content.delete(name)
    },
    async putPicture(name, bytes) {
      if (files.fails !== null) throw new Error(files.fails)
      pictureBytes.set(name, bytes.slice())
    },
    picture: async (name) => pictureBytes.get(name),
    pictures: async () => [...pictureBytes.keys()],
    async removePicture(name) {
      pictureBytes.delete(name)
    },
  }
  return files
}

let names = 0
export const keeperOver = (files: JournalFiles): Keeper =>
  keepJournal(files, () => `segment ${String(names++).padStart(6, '0')}`)
