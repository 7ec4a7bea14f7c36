import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { hrefOfPlace, logPlace, restOfPlace } from '../../../src/screens/log/log-place.ts'
import { addressFromPath } from '../../../src/ui/router.ts'

describe('places of the log', () => {
  test('an id that is no other name leads to a reading', () => {
    const id = '0f8fad5b-d9cb-469f-a165-70867728950e'
    expect(logPlace(id)).toEqual({ kind: 'entry', id })
    expect(logPlace('row 17')).toEqual({ kind: 'entry', id: 'row 17' })
  })

  test('a pair that lacks its second reading is no pair', () => {
    expect(logPlace('pair/a')).toEqual({ kind: 'entry', id: 'pair/a' })
  })

  test('any name of an object comes back from its link', () => {
    const name = fc.string({ minLength: 1, maxLength: 60, unit: 'grapheme' })
    fc.assert(
      fc.property(name, (object) => {
        const place = { kind: 'series', object } as const
        expect(logPlace(restOfPlace(place))).toEqual(place)
        expect(logPlace(addressFromPath(hrefOfPlace(place)).rest)).toEqual(place)
      }),
    )
  })
})
