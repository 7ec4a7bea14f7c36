import { signal } from '@preact/signals'
import { afterEach, describe, expect, test } from 'vitest'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { type MeasuredCard, storeCard } from '../../../src/session/kit/store-card.ts'
import type { StoredGrey } from '../../../src/session/kit/stored-items.ts'
import { NO_FACTS, type PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { BALANCE } from './items.ts'

afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00Z')
const PHONE = { ...NO_FACTS, make: 'Made-up', model: 'phone', lens: 'wide' }
const photo = (facts: PhotoFacts, channels = 'display-p3') => ({
  photo: signal({ facts, channels }),
})

/** A card in a photo of its own, as it was measured. */
const measured = (change: object = {}): MeasuredCard =>
  ({
    greySource: signal({ kind: 'other photo' }),
    balance: signal({ ...BALANCE, id: 'content of the card' }),
    card: signal({ card: { mean: [0.4, 0.4, 0.4] } }),
    cardLight: signal({ kind: 'daylight', illuminant: 'D65' }),
    other: photo(PHONE),
    glow: photo({ ...PHONE, lens: 'tele' }, 'camera'),
    balanceKind: 'locked',
    facts: null,
    simulated: false,
    ...change,
  }) as unknown as MeasuredCard

describe('a card that is kept', () => {
  test('is that of its photo, and is in use from then on', async () => {
    const log = await openTestLog()
    const model = measured()
    const grey = await storeCard(log, model, [], ' Card of May ', NOW)
    const { greys, unreadable } = sortKit((await log.kit.list()).items)
    expect(unreadable).toEqual([])
    expect(greys).toEqual([grey])
    expect(grey).toMatchObject({
      name: 'Card of May',
      cameraId: 'Made-up · phone · wide',
      channels: 'display-p3',
      balanceKind: 'locked',
      balance: { id: 'content of the card' },
    })
    expect(Date.parse(grey!.takenAt)).toBe(NOW.getTime())
    expect(model.greySource.value).toEqual({ kind: 'kept', grey })
    const [item] = (await log.kit.list()).items
    expect(item).toMatchObject({
      kind: 'grey reference',
      simulated: false,
      data: { light: { kind: 'daylight', illuminant: 'D65' } },
    })
  })

  test('in the glow’s photo is of that photo; without a name it is a grey card', async () => {
    const log = await openTestLog()
    const model = measured({ greySource: signal({ kind: 'this photo' }), simulated: true })
    const grey = await storeCard(log, model, [], '  ', NOW)
    expect(grey).toMatchObject({
      name: 'Grey card',
      cameraId: 'Made-up · phone · tele',
      channels: 'camera',
    })
    expect((await log.kit.list()).items[0]?.simulated).toBe(true)
  })

  test('whose file does not name its camera is of the camera of the reading', async () => {
    const log = await openTestLog()
    const other = photo(NO_FACTS)
    const grey = await storeCard(log, measured({ other, facts: PHONE }), [], '', NOW)
    expect(grey?.cameraId).toBe('Made-up · phone · wide')
    // A file that names it is not overruled.
    const named = measured({ facts: { ...PHONE, lens: 'tele' } })
    expect((await storeCard(log, named, [], '', NOW))?.cameraId).toBe('Made-up · phone · wide')
  })

  test('of a photo that the kit has already is used, and not kept once more', async () => {
    const log = await openTestLog()
    const stored = { id: 'g', balance: { id: 'content of the card' } } as StoredGrey
    const another = { id: 'h', balance: { id: 'another' } } as StoredGrey
    const model = measured()
    expect(await storeCard(log, model, [another, stored], '', NOW)).toBe(stored)
    expect(model.greySource.value).toEqual({ kind: 'kept', grey: stored })
    expect((await log.kit.list()).items).toEqual([])
  })

  test.each([
    ['a card of the kit is in use', { greySource: signal({ kind: 'kept' }) }],
    ['it gave no balance', { balance: signal(null) }],
    ['it was not measured', { card: signal(null) }],
    ['its photo is gone', { other: { photo: signal(null) } }],
  ])('is none where %s', async (_, change) => {
    const log = await openTestLog()
    expect(await storeCard(log, measured(change), [], '', NOW)).toBeNull()
    expect((await log.kit.list()).items).toEqual([])
  })
})
