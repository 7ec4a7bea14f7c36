import { FIRST_LOAD_BUDGET_BYTES, firstLoad, totalBytes } from './first-load.ts'
import { test as base, expect } from './harness.ts'

// The page registers its service worker as it does for people; what that fetches is not counted.
const test = base.extend({ offlineUse: true })

test('the first visit loads no more script and style than the budget allows', async ({
  context,
  site,
}) => {
  const files = await firstLoad(context, site.url)
  const listing = files.map(({ path, gzipBytes }) => `${path} ${gzipBytes} bytes`).join('\n')
  console.log(`First visit, gzip: ${totalBytes(files)} bytes\n${listing}`)
  expect(files.length).toBeGreaterThan(0)
  expect(totalBytes(files), listing).toBeLessThanOrEqual(FIRST_LOAD_BUDGET_BYTES)
})
