/**
 * The journal: a second copy of the log on another mechanism of the browser than its database. Every
 * change is appended as a record and is on disk before it is called saved. Runs in a worker.
 *
 * Each tab writes into a segment of its own, so that no tab waits for one that is suspended. Turns
 * count the writing transactions of all tabs: read in their order, the segments are one list. A
 * snapshot holds all of it as it was at its turn, or a little later: what comes after may be
 * applied twice.
 */
import type { Change } from './changes.ts'
import type { HeldFile, JournalFiles } from './files.ts'
import { type Frame, frameBytes } from './frames.ts'
import {
  type JournalHeader,
  journalSegment,
  lastTurn,
  newestSnapshot,
  type Segment,
} from './segments.ts'

/** What is there; null when nothing is. */
export interface JournalContent extends JournalHeader {
  /** The last turn that was completed. */
  readonly turn: number
  /** Every turn from the snapshot, or from the first one, up to the last is there. */
  readonly whole: boolean
  readonly bytes: number
  /** Of these, what the newest snapshot takes; 0 without one. */
  readonly snapshotBytes: number
}

export interface PictureBytes {
  readonly id: string
  readonly bytes: Uint8Array<ArrayBuffer>
}

export interface Keeper {
  look(): Promise<JournalContent | null>
  /** Appends; a frame that completes something is on disk when it resolves. */
  append(header: JournalHeader, frame: Frame, pictures: readonly PictureBytes[]): Promise<void>
  /** What is left of all changes after a turn, in pieces: see {@link next}. */
  replay(epoch: string, afterTurn: number): Promise<Replay>
  next(count: number): Promise<ReplayedChange[]>
  /** All there is, given in parts: begins a new segment. Then `finishSnapshot` drops what is older. */
  beginSnapshot(header: JournalHeader): Promise<void>
  snapshotPart(turn: number, text: string, pictures: readonly PictureBytes[]): Promise<void>
  finishSnapshot(turn: number, pictureIds: readonly string[]): Promise<void>
  close(): Promise<void>
}

export interface Replay {
  /** How many changes are left. */
  readonly count: number
  /** False: there were some that no database takes; they are left out. */
  readonly whole: boolean
}

export interface ReplayedChange {
  readonly change: Change
  /** Of a picture; undefined when its file is missing. */
  readonly bytes?: Uint8Array<ArrayBuffer> | undefined
}

interface Writing {
  readonly name: string
  readonly epoch: string
  readonly version: number
  readonly file: HeldFile
}

export function keepJournal(files: JournalFiles, newName: () => string): Keeper {
  let writing: Writing | null = null
  let snapshot: (Writing & { readonly picturesBefore: readonly string[] }) | null = null
  let replayed: Change[] = []
  /** As found by `look`: what is replayed right after it need not be checked twice. */
  let looked: readonly Segment[] | null = null

  async function segments(): Promise<Segment[]> {
    const found: Segment[] = []
    for (const name of (await files.segments()).sort()) {
      const segment = await journalSegment(name, await files.read(name))
      if (segment !== null) found.push(segment)
    }
    return found
  }

  async function begin(header: JournalHeader): Promise<Writing> {
    const name = newName()
    const file = await files.hold(name)
    if (file === null) throw new Error('the journal cannot be begun')
    await file.append(frameBytes({ kind: 'header', turn: 0, text: JSON.stringify(header) }))
    return { name, epoch: header.epoch, version: header.version, file }
  }

  /** The segment to append to: one that a former tab has left, its torn end cut off, or a new one. */
  async function writable(header: JournalHeader): Promise<Writing> {
    if (writing?.epoch === header.epoch && writing.version === header.version) return writing
    await writing?.file.close()
    writing = null
    for (const { name, epoch, version, soundBytes } of (await segments()).reverse()) {
      if (epoch !== header.epoch || version !== header.version || name === snapshot?.name) continue
      const file = await files.hold(name)
      if (file === null) continue
      if (file.size > soundBytes) await file.truncate(soundBytes)
      writing = { name, epoch, version, file }
      return writing
    }
    writing = await begin(header)
    return writing
  }

  return {
    async look() {
      const all = await segments()
      looked = all
      const latest = all.reduce<Segment | undefined>(
        (best, one) => (best === undefined || one.atMs > best.atMs ? one : best),
        undefined,
      )
      if (latest === undefined) return null
      const same = all.filter(({ epoch }) => epoch === latest.epoch)
      const { epoch, atMs, version } = latest
      const turn = Math.max(...same.map(lastTurn))
      const base = newestSnapshot(same)?.snapshotTurn ?? 0
      const completed = new Set(same.flatMap(({ turns }) => [...turns]))
      const after = [...completed].filter((one) => one > base)
      return {
        epoch,
        atMs,
        // Rows of several versions are never mixed: a segment of another one asks for a snapshot.
        version: same.every((one) => one.version === version) ? version : Number.NaN,
        turn,
        whole: after.length === turn - base,
        snapshotBytes: newestSnapshot(same)?.snapshotBytes ?? 0,
        bytes: same.reduce((sum, { soundBytes }) => sum + soundBytes, 0),
      }
    },

    async append(header, frame, pictures) {
      const { file } = await writable(header)
      for (const { id, bytes } of pictures) await files.putPicture(id, bytes)
      await file.append(frameBytes(frame))
      if (frame.kind !== 'part') await file.flush()
    },

    async replay(epoch, afterTurn) {
      const same = (looked ?? (await segments())).filter((segment) => segment.epoch === epoch)
      looked = null
      const { changesAfter } = await import('./replay.ts')
      const { changes, whole } = await changesAfter(same, afterTurn, files.read)
      replayed = changes
      return { count: replayed.length, whole }
    },

    async next(count) {
      return Promise.all(
        replayed.splice(0, count).map(async (change) => {
          if (change[0] !== 'pictures' || change.length !== 3) return { change }
          const { bytes } = change[2] as { bytes?: Uint8Array<ArrayBuffer> }
          return { change, bytes: bytes ?? (await files.picture(String(change[1]))) }
        }),
      )
    },

    async beginSnapshot(header) {
      await snapshot?.file.close()
      // What is appended meanwhile goes into a new segment: the one before can then be dropped whole.
      await writing?.file.close()
      writing = await begin(header)
      // Only what lay here before can be left over; what is written meanwhile is new.
      const picturesBefore = await files.pictures()
      snapshot = { ...(await begin(header)), picturesBefore }
    },

    async snapshotPart(turn, text, pictures) {
      for (const { id, bytes } of pictures) await files.putPicture(id, bytes)
      await snapshot?.file.append(frameBytes({ kind: 'part', turn, text }))
    },

    async finishSnapshot(turn, pictureIds) {
      if (snapshot === null) return
      const made = snapshot
      await made.file.append(frameBytes({ kind: 'snapshot', turn, text: '' }))
      await made.file.flush()
      snapshot = null
      await made.file.close()
      for (const segment of await segments()) {
        if (segment.name !== made.name && lastTurn(segment) <= turn) await dropSegment(segment.name)
      }
      const kept = new Set(pictureIds)
      for (const name of made.picturesBefore) {
        if (!kept.has(name)) await files.removePicture(name)
      }
    },

    async close() {
      await writing?.file.close()
      await snapshot?.file.close()
      writing = null
      snapshot = null
    },
  }

  /** A segment that another tab holds stays: it writes on in it. */
  async function dropSegment(name: string): Promise<void> {
    const file = await files.hold(name)
    if (file === null) return
    await file.close()
    await files.removeSegment(name)
  }
}
