import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import { BALANCE_UNCERTAINTY } from '../../../src/light/grey-reference.ts'
import type { CameraData, CameraLock } from '../../../src/session/kit/camera-data.ts'
import {
  type CameraItems,
  cardOf,
  devicesOf,
  piecesOf,
  profileOf,
} from '../../../src/session/kit/camera-profile.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { contentIdOf } from '../../../src/session/reading/content-id.ts'
import {
  cardHeld,
  cardMoved,
  cardUndecided,
  storedForPhoto,
} from '../../../src/session/reading/stored-for-photo.ts'
import { NO_FACTS, type PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import { BALANCE, heatItem, kitItem } from '../kit/items.ts'

const LOCK: Extract<CameraLock, { kind: 'locked' }> = {
  kind: 'locked',
  state: { kind: 'daylight', colourTemperatureK: null },
  since: '2026-03-01T10:00:00.000Z',
  facts: { exposureProgram: 1, software: '1.0', lens: null },
}
const DAYLIGHT = LOCK.state
const NOW = new Date('2026-03-02T10:00:00.000Z')
const FACTS: PhotoFacts = {
  ...NO_FACTS,
  model: 'Made-up phone',
  software: '1.0',
  exposureProgram: 1,
  whiteBalance: 'manual',
}

function kitOf(items: Parameters<typeof sortKit>[0]): CameraItems {
  const { cameras, greys, heats, curves } = sortKit(items)
  return {
    cameras: signal(cameras),
    greys: signal(greys),
    heats: signal(heats),
    curves: signal(curves),
  }
}
const camera = (data: Partial<CameraData>) =>
  kitItem({ id: 'c', kind: 'camera', data: { device: 'Made-up phone', ...data } as never })
const card = (id: string, more: object = {}, balance: object = {}) =>
  kitItem({
    id,
    kind: 'grey reference',
    cameraId: 'Made-up phone',
    balanceState: 'daylight',
    data: { balance: { ...BALANCE, ...balance }, channels: 'display-p3', ...more } as never,
  })
const photo = (facts: Partial<PhotoFacts> = {}) =>
  ({ channels: 'display-p3', facts: { ...FACTS, ...facts } }) as const
const stored = (items: Parameters<typeof sortKit>[0], facts: Partial<PhotoFacts> = {}) =>
  storedForPhoto(photo(facts), profileOf('Made-up phone', kitOf(items)))

describe('what is stored of a camera', () => {
  test('is applied to its photo: lock and card', () => {
    const found = stored([camera({ lock: LOCK }), card('g')])
    expect(found.balanceState).toEqual(DAYLIGHT)
    expect(found.card?.id).toBe('g')
    expect(found.contradictions).toEqual([])
  })

  test.each([
    ['automatic white balance', { whiteBalance: 'automatic' }, 'white balance automatic'],
    ['another exposure program', { exposureProgram: 2 }, 'exposure program'],
    ['other software', { software: '1.1' }, 'software'],
  ] as const)('is not applied where the file says %s', (_, facts, code) => {
    const found = stored([camera({ lock: LOCK }), card('g')], facts)
    expect(found.contradictions.map((one) => one.code)).toEqual([code])
    expect(found.balanceState).toBeNull()
    expect(found.card).toBeNull()
  })

  test('another lens contradicts', () => {
    const lock = { ...LOCK, facts: { ...LOCK.facts, lens: 'wide' } }
    const found = stored([camera({ lock })], { lens: 'tele' })
    expect(found.contradictions).toEqual([{ code: 'lens', before: 'wide', now: 'tele' }])
  })

  test('a file that says nothing contradicts nothing', () => {
    const found = stored([camera({ lock: LOCK })], { software: null, exposureProgram: null })
    expect(found.contradictions).toEqual([])
  })

  test('a camera without a lock is asked for its card in each picture', () => {
    const lock = { kind: 'cannot be locked', way: 'card in picture', since: LOCK.since } as const
    const found = stored([camera({ lock }), card('g')])
    expect(found).toMatchObject({
      balanceState: { kind: 'automatic' },
      card: null,
      cardInPicture: true,
    })
  })

  test('a kit of an earlier version has no entry of the camera: its known heat says the lock', () => {
    expect(stored([heatItem('h')]).balanceState).toEqual(DAYLIGHT)
  })
})

describe('the card of a reading', () => {
  const profile = (items: Parameters<typeof sortKit>[0]) => profileOf('Made-up phone', kitOf(items))

  test('is the card kept with the newest known heat, not a newer one', () => {
    const items = [
      card('new', { contentId: 'content b' }),
      card('old', { contentId: 'content a' }),
      heatItem('h', { balance: { ...BALANCE, id: 'content a' } as never }),
    ]
    expect(cardOf(profile(items), 'Made-up phone', 'display-p3', DAYLIGHT)?.id).toBe('old')
  })

  test('comes out of the known heat itself where the card was not kept', () => {
    const items = [heatItem('h', { balance: { ...BALANCE, id: 'content a' } as never })]
    const found = cardOf(profile(items), 'Made-up phone', 'display-p3', DAYLIGHT)
    expect(found?.balance.id).toBe('content a')
  })

  test('goes by the content of its photo: the same file is the same card', async () => {
    const one = await contentIdOf(new Blob(['the card']))
    expect(await contentIdOf(new Blob(['the card']))).toBe(one)
    expect(await contentIdOf(new Blob(['the cart']))).not.toBe(one)
    const { greys } = sortKit([card('g', { contentId: one }), card('of an earlier version')])
    expect(greys.map(({ balance }) => balance.id)).toEqual([one, 'of an earlier version'])
  })

  test('that has moved by more than both leave open contradicts', () => {
    // As a balance is made: light and noise, and a share of itself by which it errs for a glow.
    const balance = (lnGreen: number) => ({
      logGains: [0, lnGreen, 0],
      covariance: [
        [0, 0, 0],
        [0, 0.01 ** 2 + (BALANCE_UNCERTAINTY * lnGreen) ** 2, 0],
        [0, 0, 0.01 ** 2],
      ],
    })
    const [before, same, moved] = sortKit([
      card('before', {}, balance(0)),
      card('same', {}, balance(0.02)),
      card('moved', {}, balance(0.06)),
    ]).greys as never as Parameters<typeof cardMoved>[1][]
    expect(cardMoved(same!, before!)).toBeNull()
    // 0.06 over the root of two times 0.01.
    expect(cardMoved(moved!, before!)?.deviations).toBeCloseTo(0.06 / (0.01 * Math.SQRT2), 6)
  })

  test('two cards that agree in both ratios show that the lock holds', () => {
    const [before, ...others] = sortKit([
      card('before'),
      // Brighter by a third, and of the same colour.
      card('same', {}, { id: 'b', logGains: [0.3, 0.308, 0.28] }),
      card('greener', {}, { id: 'c', logGains: [0, 0.02, 0] }),
      card('bluer', {}, { id: 'd', logGains: [0, 0.008, 0.05] }),
      card('raw', { channels: 'camera' }, { id: 'e' }),
    ]).greys
    const held = others.filter((other) => cardHeld(other, before!)).map(({ id }) => id)
    expect(held).toEqual(['same'])
    // Two standard deviations apart: it may be the light.
    const [between] = sortKit([card('between', {}, { id: 'f', logGains: [0, 0.02, 0] })]).greys
    expect(cardUndecided(between!, before!)).toEqual({
      name: before!.name,
      channel: 'green',
      apart: expect.closeTo(Math.expm1(0.02), 6),
    })
    const [bluer] = sortKit([card('bluer', {}, { id: 'g', logGains: [0, 0.001, 0.05] })]).greys
    expect(cardUndecided(bluer!, before!)).toMatchObject({
      channel: 'blue',
      apart: expect.closeTo(Math.expm1(0.05), 6),
    })
    expect(cardUndecided(others[0]!, before!)).toBeNull()
  })
})

describe('the pieces of a camera', () => {
  test('have a day, and a day to be checked again', () => {
    const pieces = piecesOf(
      profileOf('Made-up phone', kitOf([camera({ lock: LOCK }), card('g'), heatItem('h')])),
      NOW,
    )
    expect(Object.keys(pieces).sort()).toEqual(['card', 'heat', 'lock'])
    expect(pieces.lock).toMatchObject({ since: LOCK.since, due: false })
    const later = new Date('2028-01-01T00:00:00.000Z')
    const old = piecesOf(profileOf('Made-up phone', kitOf([camera({ lock: LOCK })])), later)
    expect(old.lock?.due).toBe(true)
  })

  test('a device holds all its lenses and the live stream that was said to be it', () => {
    const kit = kitOf([
      camera({ liveIds: ['video device 1'], usedAt: '2026-03-01' }),
      heatItem('wide', { cameraId: 'Made-up phone · wide' }),
      heatItem('live', { cameraId: 'video device 1' }),
      heatItem('other', { cameraId: 'Made-up phone 2' }),
    ])
    expect(devicesOf(kit)).toEqual(['Made-up phone', 'Made-up phone 2'])
    const { heats } = profileOf('Made-up phone', kit)
    expect(heats.map(({ item }) => item.id)).toEqual(['wide', 'live'])
  })
})

describe('two cards of one light', () => {
  const [before] = sortKit([card('before')]).greys
  const said = (lnGreen: number, lnBlue: number, variance = 0) => {
    // As a balance is made: noise, and a share of itself by which it errs for a glow.
    const covariance = [
      [0, 0, 0],
      [0, variance + (BALANCE_UNCERTAINTY * lnGreen) ** 2, 0],
      [0, 0, variance],
    ]
    const [now] = sortKit([
      card('now', {}, { id: 'now', logGains: [0, lnGreen, lnBlue], covariance }),
    ]).greys
    return { held: cardHeld(now!, before!), moved: cardMoved(now!, before!) !== null }
  }

  test('agree within 1.4 % in green over red, and twice that in blue', () => {
    for (const sign of [1, -1]) {
      expect(said(sign * 0.0136, 0).held).toBe(true)
      expect(said(sign * 0.0144, 0).held).toBe(false)
      expect(said(0, sign * 0.0272).held).toBe(true)
      expect(said(0, sign * 0.0288).held).toBe(false)
    }
  })

  test('contradict each other from three standard deviations on', () => {
    // That of a card without noise is what two codes agree to: 0.5 % each.
    const sd = (variance: number) => Math.sqrt(Math.max(variance, 0.005 ** 2) + 0.005 ** 2)
    for (const variance of [0, 0.01 ** 2])
      for (const sign of [1, -1]) {
        expect(said(sign * 2.9 * sd(variance), 0, variance).moved).toBe(false)
        expect(said(sign * 3.1 * sd(variance), 0, variance).moved).toBe(true)
      }
  })
})
