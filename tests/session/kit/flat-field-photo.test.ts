import { beforeEach, expect, test } from 'vitest'
import { flatFieldFromPhoto } from '../../../src/session/kit/flat-field-photo.ts'
import { madePhoto, openWorkers, PHONE, stubMadePhotos } from '../made-photos.ts'

beforeEach(stubMadePhotos)

const NOW = new Date('2026-05-04T10:00:00Z')
const sheet = (facts: object = PHONE) => madePhoto({ card: 'fills the picture', facts })
const found = (file: File) => flatFieldFromPhoto(file, 'Made-up · phone', NOW)

test('a white sheet gives what the lens does to colour, with the lens and the day', async () => {
  const result = await found(sheet())
  if (result.kind !== 'measured') throw new Error(JSON.stringify(result))
  expect(result.kept).toMatchObject({
    lens: 'wide',
    channels: 'display-p3',
    at: '2026-05-04T10:00:00.000Z',
  })
  // The sheet is of one colour everywhere.
  expect(Math.abs(result.kept.field.green)).toBeLessThan(0.005)
  expect(Math.abs(result.kept.field.blue)).toBeLessThan(0.005)
  expect(openWorkers()).toBe(0)
})

test('a sheet by another camera says nothing of this one; one that names none is taken for it', async () => {
  expect(await found(sheet({ ...PHONE, model: 'other' }))).toEqual({ kind: 'other camera' })
  expect((await found(sheet({}))).kind).toBe('measured')
})

test('a picture that is no white sheet is refused, and nothing stays open', async () => {
  expect((await found(madePhoto({ temperatureK: 1200, facts: PHONE }))).kind).toBe('refused')
  await expect(found(new File(['none'], 'list.txt'))).rejects.toThrow()
  expect(openWorkers()).toBe(0)
})
