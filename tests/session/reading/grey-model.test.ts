import { describe, expect, test } from 'vitest'
import { balanceFromGrey } from '../../../src/light/grey-reference.ts'
import type { Region } from '../../../src/light/image.ts'
import { createGreyModel } from '../../../src/session/reading/grey-model.ts'
import { createPhotoSlot } from '../../../src/session/reading/photo-slot.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { colour } from '../../estimate/inputs.ts'

const HERE: Region = { shape: 'rectangle', x: 2, y: 2, width: 8, height: 8 }
const THERE: Region = { ...HERE, x: 20 }
const CARD = colour(0.9, 0.8)

function photo(part: object = {}): Photo {
  return {
    width: 40,
    height: 40,
    channels: 'display-p3',
    facts: {},
    proposal: HERE,
    measureGrey: async (region: Region) => ({ region, card: CARD, refused: false, findings: [] }),
    marks: async () => null,
    close: () => undefined,
    ...part,
  } as unknown as Photo
}
async function modelWith(glow: Photo | null = photo()) {
  const slot = createPhotoSlot()
  if (glow) await slot.openBy('glow', async () => glow)
  const grey = createGreyModel(slot)
  grey.setGlowContent('content of the glow')
  return { slot, grey }
}
const settled = () => new Promise((resolve) => setImmediate(resolve))

describe('a card in the glow’s photo', () => {
  test('balances once it was put on the card', async () => {
    const { grey } = await modelWith()
    expect(grey.balance.value).toBeNull()
    // Where there is no card none can be of other channels.
    expect([grey.cardOfOtherChannels.value, grey.lensPlaces.value]).toEqual([false, null])
    grey.startCardHere(THERE)
    await settled()
    expect(grey.card.value).not.toBeNull()
    expect(grey.balance.value).toBeNull()
    grey.setCardRegion(HERE)
    await settled()
    expect(grey.cardRegion.value).toEqual(HERE)
    expect(grey.balance.value).toEqual({
      id: 'content of the glow',
      ...balanceFromGrey({ card: CARD, light: grey.cardLight.value, channels: 'display-p3' }),
    })
    grey.disposeGrey()
  })

  test('balances at once where it is known to lie', async () => {
    const { grey } = await modelWith()
    grey.startCardHere(THERE, true)
    await settled()
    expect(grey.balance.value).not.toBeNull()
    // Glow and card lie apart before the lens.
    expect(grey.lensPlaces.value?.glow).toBeGreaterThan(0)
    expect(grey.lensPlaces.value?.card).not.toBe(grey.lensPlaces.value?.glow)
    grey.disposeGrey()
  })

  test('by another light gives another balance', async () => {
    const { grey } = await modelWith()
    grey.startCardHere(HERE, true)
    await settled()
    const daylight = grey.balance.value?.logGains
    grey.cardLight.value = {
      kind: 'filament',
      colourTemperatureK: 2700,
      standardUncertaintyK: 100,
    }
    await settled()
    expect(grey.balance.value?.logGains).not.toEqual(daylight)
    grey.disposeGrey()
  })

  test('that is none gives no balance', async () => {
    const { grey } = await modelWith(
      photo({ measureGrey: async () => ({ card: CARD, refused: true, findings: [{}] }) }),
    )
    grey.startCardHere(HERE, true)
    await settled()
    expect(grey.card.value?.refused).toBe(true)
    expect(grey.balance.value).toBeNull()
    grey.disposeGrey()
  })

  test('goes with the photo; a card of another photo stays', async () => {
    const { grey } = await modelWith()
    grey.startCardHere(HERE, true)
    await settled()
    grey.forgetCardHere()
    expect(grey.greySource.value).toEqual({ kind: 'none' })
    expect(grey.card.value).toBeNull()
    expect(grey.balance.value).toBeNull()
    grey.greySource.value = { kind: 'other photo' }
    grey.forgetCardHere()
    expect(grey.greySource.value).toEqual({ kind: 'other photo' })
    grey.disposeGrey()
  })
})

describe('a card in another photo', () => {
  async function other(part: object = {}) {
    const made = await modelWith()
    await made.grey.other.openBy('card', async () => photo(part))
    made.grey.greySource.value = { kind: 'other photo' }
    made.grey.setCardRegion(THERE)
    await settled()
    return made
  }

  test('has its region in that photo, and balances the glow', async () => {
    const { slot, grey } = await other()
    expect(grey.other.region.value).toEqual(THERE)
    expect(grey.cardRegion.value).toEqual(THERE)
    expect(slot.region.value).toEqual(HERE)
    expect(grey.balance.value).not.toBeNull()
    grey.disposeGrey()
  })

  test('in other channels than the glow’s does not count, and that is told', async () => {
    const { grey } = await other({ channels: 'camera' })
    expect(grey.card.value).not.toBeNull()
    expect(grey.cardOfOtherChannels.value).toBe(true)
    expect(grey.balance.value).toBeNull()
    grey.disposeGrey()
    const same = await other()
    expect(same.grey.cardOfOtherChannels.value).toBe(false)
    same.grey.disposeGrey()
  })
})

test('a kept card balances photos of its channels only', async () => {
  const balance = { id: 'kept', logGains: [0, 0.1, 0.2] }
  const { grey } = await modelWith()
  grey.greySource.value = { kind: 'kept', grey: { balance, channels: 'display-p3' } } as never
  expect(grey.balance.value).toEqual(balance)
  grey.greySource.value = { kind: 'kept', grey: { balance, channels: 'camera' } } as never
  expect(grey.balance.value).toBeNull()
  expect(grey.lensPlaces.value).toBeNull()
  grey.disposeGrey()
})
