/**
 * Databases of former versions as they lie in people's browsers: written and read without the
 * product's code, so that a migration is tested against what was, not against what it expects.
 * Bytes stand as {"$bytes": base64, "$as": kind}.
 */
import 'fake-indexeddb/auto'
import { readFileSync } from 'node:fs'

interface StoreDump {
  readonly name: string
  readonly keyPath: string | null
  readonly autoIncrement: boolean
  readonly indexes: readonly {
    readonly name: string
    readonly keyPath: string | string[]
    readonly unique: boolean
  }[]
  readonly records: readonly { readonly key: IDBValidKey; readonly value: unknown }[]
}
export interface DatabaseDump {
  readonly version: number
  readonly stores: readonly StoreDump[]
}

const ARRAYS = { Float64Array, Uint16Array, Uint8Array }

export function readFixture(version: number): DatabaseDump {
  const file = new URL(`./fixtures/version-${version}.json`, import.meta.url)
  return JSON.parse(readFileSync(file, 'utf8'), reviveBytes) as DatabaseDump
}

function reviveBytes(_name: string, value: unknown): unknown {
  if (typeof value !== 'object' || value === null || !('$bytes' in value)) return value
  const { $bytes, $as } = value as { $bytes: string; $as: string }
  const bytes = Uint8Array.from(Buffer.from($bytes, 'base64'))
  if ($as === 'ArrayBuffer') return bytes.buffer
  const kind = ARRAYS[$as as keyof typeof ARRAYS]
  return new kind(bytes.buffer)
}

/** Inverse of reading a fixture: for the version that is about to become a former one. */
export function fixtureText(dump: DatabaseDump): string {
  return JSON.stringify(
    dump,
    (_name, value: unknown) => {
      if (value instanceof ArrayBuffer) {
        return { $bytes: Buffer.from(value).toString('base64'), $as: 'ArrayBuffer' }
      }
      if (ArrayBuffer.isView(value)) {
        const bytes = Buffer.from(value.buffer, value.byteOffset, value.byteLength)
        return { $bytes: bytes.toString('base64'), $as: value.constructor.name }
      }
      return value
    },
    1,
  )
}

const settled = <T>(request: IDBRequest<T>) =>
  new Promise<T>((resolve, reject) => {
    request.onsuccess = () => resolve(request.result)
    request.onerror = () => reject(request.error)
  })

export async function putDatabase(name: string, dump: DatabaseDump): Promise<void> {
  const request = indexedDB.open(name, dump.version)
  request.onupgradeneeded = () => {
    for (const store of dump.stores) {
      const made = request.result.createObjectStore(store.name, {
        keyPath: store.keyPath,
        autoIncrement: store.autoIncrement,
      })
      for (const index of store.indexes) {
        made.createIndex(index.name, index.keyPath, { unique: index.unique })
      }
      for (const { key, value } of store.records) {
        if (store.keyPath === null) made.add(value, key)
        else made.add(value)
      }
    }
  }
  const db = await settled(request)
  db.close()
}

export async function dumpDatabase(name: string): Promise<DatabaseDump> {
  const db = await settled(indexedDB.open(name))
  const stores: StoreDump[] = []
  for (const storeName of db.objectStoreNames) {
    const store = db.transaction(storeName).objectStore(storeName)
    const keys = await settled(store.getAllKeys())
    const values = (await settled(store.getAll())) as unknown[]
    stores.push({
      name: storeName,
      keyPath: store.keyPath as string | null,
      autoIncrement: store.autoIncrement,
      indexes: Array.from(store.indexNames, (indexName) => {
        const index = store.index(indexName)
        return { name: indexName, keyPath: index.keyPath, unique: index.unique }
      }),
      records: keys.map((key, i) => ({ key, value: values[i] })),
    })
  }
  const { version } = db
  db.close()
  return { version, stores }
}

/** Puts a value into a store without the product's code. */
export async function tamper(
  name: string,
  store: string,
  work: (store: IDBObjectStore) => void,
): Promise<void> {
  const db = await settled(indexedDB.open(name))
  const tx = db.transaction(store, 'readwrite')
  work(tx.objectStore(store))
  await new Promise<void>((resolve, reject) => {
    tx.oncomplete = () => resolve()
    tx.onabort = () => reject(tx.error)
  })
  db.close()
}
