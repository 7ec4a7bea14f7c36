import type { Page } from 'playwright-core'
import { readFixture } from '../log/fixture-database.ts'
import { test as base, expect } from './harness.ts'
import type { Log, LogChange } from './log-page/main.ts'
import { logSite } from './log-site.ts'
import { putOldLog } from './old-log.ts'

declare global {
  var log: Log
  var heard: LogChange[]
}

/** The log in a real browser, on a page of its own: what only a browser's storage can show. */
const test = base.extend<{ logUrl: string; logPageAt: () => Promise<Page> }>({
  logUrl: [
    // biome-ignore lint/correctness/noEmptyPattern: vitest reads the names of a fixture's needs here
    async ({}, use) => {
      const { url, end } = await logSite()
      await use(url)
      await end()
    },
    { scope: 'worker' },
  ],
  logPageAt: async ({ contextAt, logUrl }, use) => {
    const context = await contextAt(logUrl, {})
    await use(async () => {
      const page = await context.newPage()
      await page.goto('/')
      await page.waitForFunction(() => 'logPage' in globalThis)
      return page
    })
  },
})

const open = (page: Page) =>
  page.evaluate(async () => {
    globalThis.log = await logPage.openLog()
    globalThis.heard = []
    log.subscribe((change) => heard.push(change))
  })

/** Saves readings with a picture; resolves to their ids. */
const save = (page: Page, count: number) =>
  page.evaluate(async (all) => {
    const canvas = new OffscreenCanvas(40, 30)
    canvas.getContext('2d')?.fillRect(0, 0, 20, 30)
    const blob = await canvas.convertToBlob({ type: 'image/jpeg' })
    const ids: string[] = []
    for (let i = 0; i < all; i++) {
      const { method, result, inputs, object } = logPage.madeUpReading(i)
      const saved = await log.add(
        { method, result, inputs, object },
        { blob, width: 40, height: 30 },
      )
      ids.push(saved.id)
    }
    return ids
  }, count)

test('a reading saved in one tab is seen in the other', async ({ logPageAt }) => {
  const here = await logPageAt()
  const there = await logPageAt()
  await open(here)
  await open(there)
  await there.evaluate(() => log.find())
  const [id] = await save(here, 1)
  await there.waitForFunction(() => heard.length > 0)
  expect(await there.evaluate(async () => (await log.find()).ids())).toEqual([id])
  expect(await there.evaluate(() => heard)).toEqual([
    { kind: 'readings', ids: [id], elsewhere: true },
  ])
})

test('a log of the first version is carried over in a real browser', async ({ logPageAt }) => {
  const page = await logPageAt()
  await putOldLog(page, 'glowbook')
  await open(page)
  const seen = await page.evaluate(async () => ({
    count: await log.count(),
    found: (await log.find({ text: 'brushed' })).count,
    picture: (await log.picture('00000000-0000-4000-8000-000000000005'))?.size,
    damaged: (await log.check()).length,
  }))
  const former = readFixture(1).stores.find(({ name }) => name === 'pictures')?.records[0]?.value
  expect(seen).toEqual({
    count: 7,
    found: 1,
    picture: (former as { bytes: ArrayBuffer }).bytes.byteLength,
    damaged: 2,
  })
})

test('an old tab that holds the log open is told of, and closing it lets the upgrade go on', async ({
  logPageAt,
}) => {
  const old = await logPageAt()
  await old.evaluate(async () => {
    const request = indexedDB.open('glowbook', 1)
    request.onupgradeneeded = () => {
      for (const name of ['readings', 'pictures', 'kit']) {
        request.result.createObjectStore(name, { keyPath: 'id' })
      }
    }
    await new Promise((resolve) => {
      request.onsuccess = resolve
    })
    Object.assign(globalThis, { old: request.result })
  })
  const page = await logPageAt()
  const failure = await page.evaluate(() =>
    logPage.openLog({ patienceMs: 300 }).then(() => 'opened', logPage.failureOf),
  )
  expect(failure).toEqual({ code: 'upgrade blocked' })
  const told = page.evaluate(
    () =>
      new Promise<string>((resolve, reject) => {
        let blocked = false
        logPage
          .openLog({
            onBlocked: () => {
              blocked = true
              document.title = 'blocked'
            },
          })
          .then((log) => log.count())
          .then((count) => resolve(`blocked ${blocked}, then ${count} readings`), reject)
      }),
  )
  await page.waitForFunction(() => document.title === 'blocked')
  await old.close()
  expect(await told).toBe('blocked true, then 0 readings')
})

test('a full disk keeps what was saved, says so, and goes on when there is room', async ({
  logPageAt,
  logUrl,
}) => {
  const page = await logPageAt()
  const session = await page.context().newCDPSession(page)
  // Before the first use: the browser remembers for a while how much room there was.
  await session.send('Storage.overrideQuotaForOrigin', { origin: logUrl, quotaSize: 5_000_000 })
  await open(page)
  const saved = await save(page, 3)
  const failure = await page.evaluate(async () => {
    const { method, result } = logPage.madeUpReading(0)
    for (let i = 0; i < 100; i++) {
      // Noise: a browser's storage compresses, and would hold any number of blanks.
      const bytes = crypto.getRandomValues(new Uint8Array(60_000))
      const inputs = {
        noise: Array.from(bytes, (byte) => byte.toString(36))
          .join('')
          .repeat(3),
      }
      const answer = await log.add({ method, result, inputs }).then(() => null, logPage.failureOf)
      if (answer !== null) return answer
    }
    return 'never full'
  })
  expect(failure).toMatchObject({ code: 'storage full' })
  await page.evaluate(() => log.close())
  await session.send('Storage.overrideQuotaForOrigin', { origin: logUrl })
  await open(page)
  await expect.poll(() => save(page, 1).catch(() => [])).toHaveLength(1)
  const again = await save(page, 1)
  const seen = await page.evaluate(async () => ({
    damaged: await log.check(),
    ids: (await log.find()).ids(),
    count: await log.count(),
  }))
  expect(seen.damaged).toEqual([])
  expect(seen.ids).toHaveLength(seen.count)
  expect(seen.ids).toEqual(expect.arrayContaining([...saved, ...again]))
})

/** The browser drops the database alone, as it does with one that it takes for broken. */
async function dropDatabase(page: Page, origin: string): Promise<void> {
  const session = await page.context().newCDPSession(page)
  await session.send('Storage.clearDataForOrigin', { origin, storageTypes: 'indexeddb' })
  // The browser answers before all of it is gone, and refuses to open what it is still deleting.
  await page.evaluate(async () => {
    const left = async () => (await indexedDB.databases().catch(() => [null])).length
    while ((await left()) > 0) await new Promise((resolve) => setTimeout(resolve, 20))
  })
}

test('a database that is gone is made again from the private files, with its pictures', async ({
  logPageAt,
  logUrl,
}) => {
  const page = await logPageAt()
  await open(page)
  const ids = await save(page, 3)
  await page.evaluate(([id]) => log.edit(id!, { notes: 'brushed' }), ids)
  const content = () =>
    page.evaluate(async () => {
      const text = await (await logPage.fileFrom(log.export('json'), 'a', 'b')).text()
      return text.replace(/"exportedAt":"[^"]*"/, '')
    })
  const before = await content()
  await page.evaluate(() => log.close())
  await dropDatabase(page, logUrl)
  await open(page)
  expect(await content()).toBe(before)
  const seen = await page.evaluate(async (all) => {
    const pictures = await Promise.all(all.map((id) => log.picture(id)))
    const { restored, missing, secondCopy } = await log.status()
    const damaged = await log.check()
    return { pictures: pictures.map((one) => one?.type), restored, missing, secondCopy, damaged }
  }, ids)
  expect(seen).toEqual({
    pictures: ids.map(() => 'image/jpeg'),
    restored: { readings: 3, at: expect.any(String) },
    missing: null,
    secondCopy: 'kept',
    damaged: [],
  })
})

test('without private files one copy is kept, which is said, and its loss is noticed', async ({
  logPageAt,
  logUrl,
}) => {
  const page = await logPageAt()
  await page.evaluate(() => {
    StorageManager.prototype.getDirectory = undefined as never
    delete (StorageManager.prototype as { getDirectory?: unknown }).getDirectory
  })
  await open(page)
  await save(page, 2)
  expect(await page.evaluate(async () => (await log.status()).secondCopy)).toBe('none')
  await page.evaluate(() => log.close())
  await dropDatabase(page, logUrl)
  await open(page)
  expect(await page.evaluate(async () => (await log.status()).missing)).toMatchObject({
    readings: 2,
  })
})

test('the log leaves as a ZIP and comes back whole, picture by picture', async ({ logPageAt }) => {
  const page = await logPageAt()
  await open(page)
  const ids = await save(page, 120)
  const back = await page.evaluate(async () => {
    const file = await logPage.fileFrom(log.export('zip'), 'log.zip', 'application/zip')
    const before = await (await logPage.fileFrom(log.export('json'), 'a', 'b')).text()
    await log.empty()
    const preview = await log.readFile(file)
    const report = await preview.merge({ conflicts: 'mine' })
    const after = await (await logPage.fileFrom(log.export('json'), 'a', 'b')).text()
    const strip = (text: string) => text.replace(/"exportedAt":"[^"]*"/, '')
    return { report, same: strip(before) === strip(after), damaged: await log.check() }
  })
  expect(back).toEqual({
    report: { added: ids.length, changed: 0, kept: 0, pictures: ids.length },
    same: true,
    damaged: [],
  })
})

test('storage that cannot be had is told as such', async ({ logPageAt }) => {
  const page = await logPageAt()
  const failure = await page.evaluate(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('denied', 'SecurityError')
    }
    return logPage.openLog().then(() => 'opened', logPage.failureOf)
  })
  expect(failure).toMatchObject({ code: 'storage refused' })
})
