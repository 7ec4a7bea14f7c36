/** Version 3: recordings of heat over time, with stores of their own. */
import type { IDBPDatabase } from 'idb'

export function upgradeTo3(db: IDBPDatabase<unknown>): void {
  const recordings = db.createObjectStore('recordings', { keyPath: 'id' })
  recordings.createIndex('removed', 'removedAtMs')
  db.createObjectStore('recordingChunks', { keyPath: ['id', 'number'] })
  db.createObjectStore('recordingDetails', { keyPath: 'id' })
}
