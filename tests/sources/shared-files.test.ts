import { expect, test } from 'vitest'
import { sharedPlace } from '../../src/sources/offline-parts.ts'
import { shareOutcome } from '../../src/sources/shared-photos.ts'

test('the address tells how many photos were shared, or that they did not come', () => {
  const search = (outcome: string) => new URL(sharedPlace + outcome, 'https://app.invalid').search
  expect(shareOutcome(search('2'))).toBe(2)
  expect(shareOutcome(search('failed'))).toBe('failed')
  expect(shareOutcome('?shared=-1')).toBe('failed')
  expect(shareOutcome('?other=1')).toBeUndefined()
})
