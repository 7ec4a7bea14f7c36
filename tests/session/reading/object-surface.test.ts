import { afterEach, expect, test } from 'vitest'
import { surfaceOfObject } from '../../../src/session/reading/object-surface.ts'
import { closeTestLogs, draft, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

test('a piece has the surface that it was last read with, where one was stated', async () => {
  const log = await openTestLog()
  expect(await surfaceOfObject(log, 'bar')).toBeNull()
  await log.add(draft({ object: 'bar', material: 'steel-oxidised', cover: 'glass' }))
  await log.add(draft({ object: 'lid', material: 'cavity' }))
  await log.add(draft({ object: 'bar', material: '' }))
  expect(await surfaceOfObject(log, 'bar')).toEqual({
    materialId: 'steel-oxidised',
    cover: 'glass',
  })
  expect(await surfaceOfObject(log, 'lid')).toEqual({ materialId: 'cavity', cover: 'none' })
  await log.add(draft({ object: 'bar', material: 'cavity' }))
  expect(await surfaceOfObject(log, 'bar')).toMatchObject({ materialId: 'cavity' })
})
