/** A write transaction whose changes are told as they are made: nothing is written without it. */
import type { PictureRow } from '../index/rows.ts'
import { type Change, JOURNALED_STORES, type JournaledStore } from './changes.ts'
import type { PictureBytes } from './keeper.ts'

interface AnyStore {
  readonly keyPath: string | readonly string[] | null
  put(value: unknown, key?: IDBValidKey): Promise<IDBValidKey>
  add(value: unknown, key?: IDBValidKey): Promise<IDBValidKey>
  delete(key: IDBValidKey | IDBKeyRange): Promise<void>
  clear(): Promise<void>
}

/** Pictures of readings (320 pixels, some 20 kB) lie in their record: a file of its own costs 5 ms more. */
const INLINE_BYTES = 100_000

/** @param take is given each change of a kept store, with the picture's bytes beside it */
export function recorded<T extends object>(
  tx: T,
  take: (change: Change, picture?: PictureBytes) => void,
): T {
  const kept = new Set<string>(JOURNALED_STORES)
  const over = (name: JournaledStore, store: AnyStore) => {
    const putting = (verb: 'put' | 'add') => (value: unknown, key?: IDBValidKey) => {
      const at = key ?? keyOf(value as Record<string, IDBValidKey>, store.keyPath)
      if (name === 'pictures' && (value as PictureRow).bytes.length > INLINE_BYTES) {
        const { bytes, ...row } = value as PictureRow
        take([name, at, row], { id: row.id, bytes })
      } else take([name, at, value])
      return store[verb](value, key)
    }
    const recording = {
      put: putting('put'),
      add: putting('add'),
      delete(key: IDBValidKey | IDBKeyRange) {
        if (key instanceof IDBKeyRange) take([name, key.lower, key.upper, 'range'])
        else take([name, key])
        return store.delete(key)
      },
      clear() {
        take([name])
        return store.clear()
      },
    }
    return withMethods(store, recording)
  }
  return withMethods(tx, {
    objectStore(name: string) {
      const store = (tx as { objectStore(of: string): AnyStore }).objectStore(name)
      return kept.has(name) ? over(name as JournaledStore, store) : store
    },
  })
}

function keyOf(value: Record<string, IDBValidKey>, path: AnyStore['keyPath']): IDBValidKey {
  return typeof path === 'string' ? value[path]! : (path ?? []).map((name) => value[name]!)
}

/** The object with some of its methods replaced; the others keep their own `this`. */
function withMethods<T extends object>(target: T, methods: Record<string, unknown>): T {
  return new Proxy(target, {
    get(of, name) {
      if (typeof name === 'string' && Object.hasOwn(methods, name)) return methods[name]
      const value = Reflect.get(of, name, of)
      return typeof value === 'function' ? value.bind(of) : value
    },
  })
}
