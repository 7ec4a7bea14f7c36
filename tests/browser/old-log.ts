import type { Page } from 'playwright-core'
import { readFixture } from '../log/fixture-database.ts'

/** Puts a log of the first version into the browser's storage, to be carried over. */
export async function putOldLog(page: Page, name: string): Promise<void> {
  const plain = readFixture(1).stores.map((store) => ({
    name: store.name,
    values: store.records.map(({ value }) => {
      const { bytes, ...rest } = value as { bytes?: ArrayBuffer }
      return bytes === undefined ? rest : { ...rest, bytes: [...new Uint8Array(bytes)] }
    }),
  }))
  await page.evaluate(
    async ({ dump, name }) => {
      const request = indexedDB.open(name, 1)
      request.onupgradeneeded = () => {
        for (const { name: store, values } of dump) {
          const into = request.result.createObjectStore(store, { keyPath: 'id' })
          for (const value of values) {
            const { bytes } = value as { bytes?: number[] }
            into.add(bytes ? { ...value, bytes: Uint8Array.from(bytes).buffer } : value)
          }
        }
      }
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
      request.result.close()
    },
    { dump: plain, name },
  )
}
