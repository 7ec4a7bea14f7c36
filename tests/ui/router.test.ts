import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addressFromPath, PLACES, pathFromAddress } from '../../src/ui/router.ts'

test('an address survives the way through the bar, whatever a name holds', () => {
  fc.assert(
    fc.property(fc.constantFrom(...PLACES), fc.string({ unit: 'binary' }), (place, rest) => {
      fc.pre(!rest.startsWith('/') && !rest.endsWith('/') && !rest.includes('//'))
      const path = pathFromAddress({ place, rest })
      expect(addressFromPath(path)).toEqual({ place, rest })
    }),
  )
})

test('half of a surrogate pair in a name ends in an address all the same', () => {
  expect(addressFromPath(pathFromAddress({ place: 'log', rest: 'series/bar \ud83d' }))).toEqual({
    place: 'log',
    rest: 'series/bar \ufffd',
  })
})

test('no address whatever throws; what is unknown leads to the reading', () => {
  expect(addressFromPath('/log/%')).toEqual({ place: 'log', rest: '%' })
  expect(addressFromPath('/kit/100%')).toEqual({ place: 'kit', rest: '100%' })
  expect(addressFromPath('/constructor')).toEqual({ place: 'reading', rest: '' })
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (path) => {
      expect(PLACES).toContain(addressFromPath(`/${path}`).place)
    }),
  )
})
