import { type ReadonlySignal, signal } from '@preact/signals'
import type { BackupPlace } from '../../log/export/backup-place.ts'
import type { Log } from '../../log/schema/types.ts'
import { MAPS_TO_EXPORT } from './maps-to-export.ts'

export type BackupFileState =
  | { readonly kind: 'none' }
  | { readonly kind: 'kept' | 'writing'; readonly name: string }
  /** The browser asks anew after it was closed: a tap lets it write again. */
  | { readonly kind: 'not allowed'; readonly name: string }
  /** Moved or deleted: another one has to be chosen. */
  | { readonly kind: 'gone'; readonly name: string }
  | { readonly kind: 'failed'; readonly name: string; readonly error: unknown }

/** A backup on the device's own storage that is written again after changes. */
export interface BackupFileModel {
  readonly state: ReadonlySignal<BackupFileState>
  /** To be called from a tap, as {@link update}. */
  choose(): Promise<void>
  /** Writes now; asks the browser where it has to be asked. */
  update(): Promise<void>
  /** The file stays as it is, and is written no more. */
  forget(): Promise<void>
  /** What is under way is done, for tests. */
  settled(): Promise<void>
}

/** Where the file is chosen and remembered; replaced in tests. */
export interface BackupPlaces {
  pickBackupPlace(): Promise<BackupPlace | undefined>
  storePlace(place: BackupPlace | null): Promise<void>
  storedPlace(): Promise<BackupPlace | undefined>
}

/** After the last of several changes: the whole log is written each time. */
const QUIET_MS = 60_000
const WRITING = { mode: 'readwrite' } as const

const isGone = (error: unknown) => error instanceof DOMException && error.name === 'NotFoundError'

export function createBackupFileModel(
  log: Promise<Log>,
  places: BackupPlaces,
  quietMs = QUIET_MS,
): BackupFileModel {
  const state = signal<BackupFileState>({ kind: 'none' })
  let place: BackupPlace | undefined
  let timer: ReturnType<typeof setTimeout> | undefined
  let last: Promise<void> = Promise.resolve()

  const write = async (to: BackupPlace) => {
    const { name } = to
    const opened = await log
    const mark = await opened.markBackup()
    state.value = { kind: 'writing', name }
    const out = await to.createWritable()
    try {
      for await (const chunk of opened.export('zip', { maps: MAPS_TO_EXPORT }))
        await out.write(chunk.slice())
      // The former backup stands until here.
      await out.close()
    } catch (error) {
      await out.abort().catch(() => {})
      throw error
    }
    await opened.backedUp(mark)
    state.value = { kind: 'kept', name }
  }
  /** One after another. */
  const inTurn = (work: (to: BackupPlace) => Promise<void>): Promise<void> => {
    last = last.then(async () => {
      const to = place
      if (to === undefined) return
      try {
        await work(to)
      } catch (error) {
        const { name } = to
        state.value = isGone(error) ? { kind: 'gone', name } : { kind: 'failed', name, error }
      }
    })
    return last
  }
  const writeIfAllowed = () =>
    inTurn(async (to) => {
      if ((await to.queryPermission(WRITING)) !== 'granted') {
        state.value = { kind: 'not allowed', name: to.name }
        return
      }
      // A file that was deleted elsewhere holds nothing, whatever was written last.
      await to.getFile()
      if ((await (await log).status()).unsavedElsewhere > 0) await write(to)
      else state.value = { kind: 'kept', name: to.name }
    })

  const begin = async () => {
    place = await places.storedPlace()
    const opened = await log
    opened.subscribe(() => {
      clearTimeout(timer)
      if (place !== undefined) timer = setTimeout(() => void writeIfAllowed(), quietMs)
    })
    // Not waited for: it comes in turn after this.
    if (place !== undefined) void writeIfAllowed()
  }
  // Without a log its own screens say why; a place that cannot be read is none.
  last = begin().catch(() => undefined)

  return {
    state,
    async choose() {
      const picked = await places.pickBackupPlace()
      if (picked === undefined) return
      place = picked
      await inTurn(async (to) => {
        await places.storePlace(to)
        await write(to)
      })
    },
    update: () =>
      inTurn(async (to) => {
        if ((await to.requestPermission(WRITING)) === 'granted') await write(to)
        else state.value = { kind: 'not allowed', name: to.name }
      }),
    async forget() {
      place = undefined
      clearTimeout(timer)
      await places.storePlace(null)
      state.value = { kind: 'none' }
    },
    async settled() {
      for (let seen: unknown; seen !== last; ) {
        seen = last
        await last
      }
    },
  }
}
