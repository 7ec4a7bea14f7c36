import { expect, test } from 'vitest'
import { sharedKindOf, sharedPlace } from '../../src/sources/offline-parts.ts'
import { shareOutcome } from '../../src/sources/shared-files.ts'

const opened = (came: Parameters<typeof sharedPlace>[0]) =>
  new URL(sharedPlace(came), 'https://app.invalid')

test('photos open at the reading, texts at the spectrum way, both together at the reading', () => {
  expect(opened({ photos: 2, texts: 0 }).pathname).toBe('/')
  expect(opened({ photos: 0, texts: 2 }).pathname).toBe('/reading/spectrum')
  expect(opened({ photos: 1, texts: 2 }).pathname).toBe('/')
  expect(opened('failed').pathname).toBe('/')
})

test('the address tells how many files were shared, or that they did not come', () => {
  expect(shareOutcome(opened({ photos: 2, texts: 0 }).search)).toEqual({ came: 2, texts: 0 })
  expect(shareOutcome(opened({ photos: 1, texts: 3 }).search)).toEqual({ came: 1, texts: 3 })
  expect(shareOutcome(opened({ photos: 0, texts: 3 }).search)).toEqual({ came: 3, texts: 0 })
  expect(shareOutcome(opened('failed').search)).toEqual({ came: 'failed', texts: 0 })
  expect(shareOutcome('?shared=-1')?.came).toBe('failed')
  expect(shareOutcome('?other=1')).toBeUndefined()
})

test('a file is sorted by its name or its type, since systems state either', () => {
  const kind = (name: string, type: string) => sharedKindOf({ name, type })
  expect(kind('glow.CSV', 'application/octet-stream')).toBe('spectrum')
  expect(kind('glow.csv', 'application/vnd.ms-excel')).toBe('spectrum')
  expect(kind('glow', 'text/plain; charset=utf-8')).toBe('spectrum')
  expect(kind('glow.jpg', 'image/jpeg')).toBe('photo')
  expect(kind('glow.dng', 'application/octet-stream')).toBe('photo')
})
