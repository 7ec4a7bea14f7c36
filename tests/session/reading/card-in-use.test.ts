import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Log } from '../../../src/log/schema/types.ts'
import { NO_DRAFT } from '../../../src/session/draft.ts'
import { createKitModel } from '../../../src/session/kit/kit-model.ts'
import { cardOfReading, storeCard } from '../../../src/session/kit/store-card.ts'
import { middleOf } from '../../../src/session/reading/find-card.ts'
import { createReadingModel } from '../../../src/session/reading/reading-model.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { kitItem } from '../kit/items.ts'
import { CARD, madePhoto, PHONE, stubMadePhotos } from '../made-photos.ts'

beforeEach(stubMadePhotos)
afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00Z')
const SIZE = { width: 160, height: 120 }
const DAYLIGHT = { kind: 'daylight', colourTemperatureK: null } as const
const WITH_CARD = madePhoto({ card: 'beside the bar', facts: PHONE }, 'bar and card.jpg')
/** The middle of the card, away from its edges. */
const ON_CARD = middleOf(SIZE, {
  x: CARD.x / SIZE.width,
  y: CARD.y / SIZE.height,
  width: CARD.width / SIZE.width,
  height: CARD.height / SIZE.height,
})

async function reading(log: Log) {
  const kit = createKitModel(Promise.resolve(log))
  await expect.poll(() => kit.state.value).toBe('read')
  const model = createReadingModel(kit, NO_DRAFT)
  const end = () => {
    model.dispose()
    kit.dispose()
  }
  return { kit, model, end }
}
const stateCamera = (log: Log, data: object) => {
  const {
    id: _,
    addedAt: __,
    version: ___,
    demo: ____,
    ...item
  } = kitItem({
    id: '',
    kind: 'camera',
    name: 'Made-up · phone',
    data: { device: 'Made-up · phone', ...data } as never,
  })
  return log.kit.add(item)
}

describe('a grey card', () => {
  test('in the picture balances its own reading, is kept once, and is what the next photo is read by', async () => {
    const log = await openTestLog()
    const { kit, model, end } = await reading(log)
    await model.open(WITH_CARD, 'bar and card.jpg')
    model.choices.value = { ...model.choices.value, balanceState: DAYLIGHT }
    const store = () => storeCard(log, cardOfReading(model), kit.greys.value, '', NOW)
    // No card: nothing to be kept.
    expect(await store()).toBeNull()
    model.startCardHere(ON_CARD, true)
    await expect.poll(() => model.balance.value).not.toBeNull()
    await expect.poll(() => model.input.value?.balance).not.toBeNull()
    expect(model.input.value?.balance).toMatchObject({ samePicture: true })
    // The card is grey under daylight: it moves nothing.
    const [red, green, blue] = model.balance.value!.logGains
    expect(Math.abs(green - red)).toBeLessThan(0.02)
    expect(Math.abs(blue - red)).toBeLessThan(0.02)
    const kept = (await store())!
    expect(kept).toMatchObject({ name: 'Grey card', cameraId: 'Made-up · phone · wide' })
    expect(model.greySource.value).toEqual({ kind: 'kept', grey: kept })
    expect(await store()).toBeNull()
    // The same photo again is the same card.
    await expect.poll(() => kit.greys.value).toHaveLength(1)
    model.startCardHere(ON_CARD, true)
    await expect.poll(() => model.balance.value).not.toBeNull()
    expect((await store())?.id).toBe(kept.id)
    expect((await log.kit.list('grey reference')).items).toHaveLength(1)
    end()
  })

  test('that agrees with the stored one shows that the lock has held; one that does not is told', async () => {
    const log = await openTestLog()
    const first = await reading(log)
    await first.model.open(WITH_CARD, 'first.jpg')
    first.model.choices.value = { ...first.model.choices.value, balanceState: DAYLIGHT }
    first.model.startCardHere(ON_CARD, true)
    await expect.poll(() => first.model.balance.value).not.toBeNull()
    const stored = await storeCard(log, cardOfReading(first.model), [], 'Card of May', NOW)
    first.end()
    const lock = {
      kind: 'locked',
      state: DAYLIGHT,
      since: NOW.toISOString(),
      facts: { exposureProgram: null, software: null, lens: 'wide' },
    }
    await stateCamera(log, { lock })

    const { model, end } = await reading(log)
    await model.open(madePhoto({ card: 'beside the bar', facts: PHONE, seed: 9 }), 'later.jpg')
    expect(model.greySource.value).toMatchObject({ kind: 'kept', grey: { id: stored!.id } })
    expect(model.choices.value.balanceState).toEqual(DAYLIGHT)
    model.startCardHere(ON_CARD, true)
    await expect.poll(() => model.stored.value?.heldSince).toBe('Card of May')
    // Its error is one with that of the stored card, and the lock counts as seen to hold.
    await expect.poll(() => model.input.value?.balance?.id).toBe(stored!.balance.id)
    expect(model.input.value?.balanceState).toMatchObject({ kind: 'daylight', lock: 'verified' })
    const greener = async (by: number) => {
      await model.open(madePhoto({ card: 'beside the bar', cardGreen: by, facts: PHONE }), 'x.jpg')
      model.startCardHere(ON_CARD, true)
    }
    // A tenth may be the light, a half is not.
    await greener(1.1)
    await expect.poll(() => model.stored.value?.undecided?.channel).toBe('green')
    expect(model.input.value?.balance?.id).not.toBe(stored!.balance.id)
    await greener(1.5)
    await expect
      .poll(() => model.stored.value?.contradictions.map(({ code }) => code))
      .toEqual(['card moved'])
    end()
  })

  test('of a camera that cannot be locked is looked for where it lay in its last picture', async () => {
    const log = await openTestLog()
    await stateCamera(log, {
      lock: { kind: 'cannot be locked', way: 'card in picture', since: NOW.toISOString() },
      cardPlace: {
        x: ON_CARD.x / SIZE.width,
        y: ON_CARD.y / SIZE.height,
        width: ON_CARD.width / SIZE.width,
        height: ON_CARD.height / SIZE.height,
      },
    })
    const { model, end } = await reading(log)
    await model.open(WITH_CARD, 'bar and card.jpg')
    expect(model.greySource.value.kind).toBe('this photo')
    expect(model.cardLight.value.kind).toBe('filament')
    expect(model.choices.value.balanceState.kind).toBe('automatic')
    expect(model.cardRegion.value?.x).toBeCloseTo(ON_CARD.x, 6)
    await expect.poll(() => model.input.value?.balance).not.toBeNull()
    end()
  })
})
