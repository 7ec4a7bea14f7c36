import { expect, test, vi } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { storedDetails } from '../../../src/session/recording/recording-details.ts'
import { importRecordings } from '../../../src/session/recording/recording-exchange.ts'

/** What is kept of a bare table as the share by which its rate is unsure. */
async function rateShareOf(text: string): Promise<number> {
  const add = vi.fn()
  await importRecordings({ recordings: { add } } as unknown as Log, new File([text], 'bar.csv'))
  return storedDetails(add.mock.calls[0]![2]).rateShare
}

test('a table of a thermometer has no uncertainty of a camera in its rate, one of a camera has', async () => {
  expect(await rateShareOf('time (s),temperature (K)\n0,1200\n1,1195\n2,1190\n')).toBe(0)
  expect(await rateShareOf('time (s),temperature (K),ln(G/R)\n0,1200,-2.1\n1,1195,-2.12\n')).toBe(
    0.6,
  )
})
