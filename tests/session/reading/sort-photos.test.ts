import { describe, expect, test } from 'vitest'
import type { GlowProposal } from '../../../src/light/find-glow.ts'
import {
  inOrderOfTaking,
  type SortedLook,
  sortPhotos,
} from '../../../src/session/reading/sort-photos.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'

type FoundGlow = Extract<GlowProposal, { kind: 'found' }>
const glowAt = (redLevel: number, x = 100): FoundGlow => ({
  kind: 'found',
  region: { shape: 'rectangle', x, y: 100, width: 60, height: 30 },
  redLevel,
  greenOverRed: 0.06,
  besideClipped: false,
})
const look = (name: string, part: Partial<SortedLook> = {}): SortedLook => ({
  name,
  width: 400,
  height: 300,
  channels: 'display-p3',
  facts: { ...NO_FACTS, model: 'Made-up phone' },
  exposure: 1,
  glow: glowAt(0.5),
  neutralShare: 0,
  ...part,
})
/** One stop darker each, red down with it; too dark to be found from the sixth on. */
const sweep = (stem: string, top = 0.6) =>
  Array.from({ length: 9 }, (_, i) =>
    look(`${stem}-${i}.jpg`, {
      exposure: 2 ** -i,
      glow: i < 6 ? glowAt(top / 2 ** i) : { kind: 'none', reason: 'all black' },
    }),
  )
const kinds = (looks: readonly SortedLook[]) =>
  sortPhotos(looks).map(({ kind, photos, sure }) => `${kind} ${photos.length}${sure ? '' : ' ?'}`)

describe('photos given together', () => {
  test('a card and two sweeps are told apart, in whatever order they come', () => {
    const card = look('card.jpg', {
      glow: { kind: 'none', reason: 'lit scene' },
      neutralShare: 0.4,
    })
    const all = [...sweep('salt'), card, ...sweep('lamp')]
    expect(kinds(all)).toEqual(['card 1', 'sweep 9', 'sweep 9'])
    expect(kinds([...all].reverse())).toEqual(['card 1', 'sweep 9', 'sweep 9'])
  })

  test('one camera counts its files through two sweeps: the exposure that starts again parts them', () => {
    const two = [...sweep('a'), ...sweep('b', 0.2)].map((one, i) => ({
      ...one,
      name: `IMG_${1000 + i}.jpg`,
      facts: { ...one.facts, takenAt: `2026-03-01T10:00:${10 + i}` },
    }))
    expect(kinds(two)).toEqual(['sweep 9', 'sweep 9'])
  })

  test('of two cameras are two sweeps, however alike their pictures and names', () => {
    const second = { facts: { ...NO_FACTS, model: 'Other phone' } }
    const both = sweep('IMG').map((one, i) => (i < 5 ? one : { ...one, ...second }))
    expect(kinds(both)).toEqual(['sweep 5', 'sweep 4 ?'])
    expect(kinds(sweep('IMG'))).toEqual(['sweep 9'])
  })

  test('stand in the order of the clock, else of their exposures, else of their names', () => {
    const names = (looks: readonly SortedLook[]) => inOrderOfTaking(looks).map(({ name }) => name)
    const exposed = [0.25, 1, 0.5].map((exposure, i) => look(`bar-${i}.jpg`, { exposure }))
    expect(names(exposed)).toEqual(['bar-1.jpg', 'bar-2.jpg', 'bar-0.jpg'])
    const dated = exposed.map((one, i) => ({
      ...one,
      facts: { ...one.facts, takenAt: `2026-03-01T10:00:${30 - 10 * i}` },
    }))
    expect(names(dated)).toEqual(['bar-2.jpg', 'bar-1.jpg', 'bar-0.jpg'])
    expect(names([look('bar-10.jpg'), look('bar-9.jpg')])).toEqual(['bar-9.jpg', 'bar-10.jpg'])
  })

  test('photos of the same exposure stand alone', () => {
    expect(kinds([look('a1.jpg'), look('a2.jpg'), look('a3.jpg')])).toEqual([
      'single 1',
      'single 1',
      'single 1',
    ])
  })

  test('a glow in another place is another photo, whatever the exposures', () => {
    const moved = [1, 0.5, 0.25].map((exposure, i) =>
      look(`p${i}.jpg`, { exposure, glow: glowAt(0.5 * exposure, 100 + 90 * i) }),
    )
    expect(kinds(moved)).toEqual(['single 1', 'single 1', 'single 1'])
  })

  test('a glow that has moved by less than its own size is in the same place, along and across', () => {
    const moved = (dx: number, dy: number) =>
      kinds(
        sweep('a').map((one, i) => {
          if (one.glow.kind !== 'found' || i % 2 === 0) return one
          const { region } = one.glow
          return {
            ...one,
            glow: { ...one.glow, region: { ...region, x: region.x + dx, y: region.y + dy } },
          }
        }),
      )
    // 60 pixels wide and 30 high.
    for (const [dx, dy] of [
      [59, 0],
      [-59, 0],
      [0, 29],
      [0, -29],
    ] as const)
      expect(moved(dx, dy)).toEqual(['sweep 9'])
    for (const [dx, dy] of [
      [61, 0],
      [-61, 0],
      [0, 31],
      [0, -31],
    ] as const)
      expect(moved(dx, dy)).toEqual(new Array(9).fill('single 1'))
  })

  test('a sweep is one where its ends show but a corner of the glow', () => {
    // As the independent renderer's photos of set3 are found: beside the clipped core, whole, in the dark.
    const regions = [
      { redLevel: 0.98, besideClipped: true, x: 59, y: 142, width: 8, height: 6 },
      { redLevel: 0.64, besideClipped: false, x: 60, y: 140, width: 280, height: 24 },
      { redLevel: 0.33, besideClipped: false, x: 60, y: 140, width: 280, height: 24 },
      { redLevel: 0.15, besideClipped: false, x: 60, y: 152, width: 128, height: 8 },
    ]
    const corner = regions.map(({ redLevel, besideClipped, ...box }, i) =>
      look(`set-${i}.jpg`, {
        exposure: 2 ** -i,
        glow: { ...glowAt(redLevel), besideClipped, region: { shape: 'rectangle', ...box } },
      }),
    )
    expect(kinds(corner)).toEqual(['sweep 4'])
  })

  test('exposures that nobody states leave it open', () => {
    const unstated = sweep('x').map((one) => ({ ...one, exposure: null }))
    expect(kinds(unstated)).toEqual(['sweep 9 ?'])
  })

  test('two photos a stop apart are not enough to be sure of', () => {
    expect(kinds(sweep('x').slice(0, 2))).toEqual(['single 1 ?', 'single 1 ?'])
  })

  test('a photo and the raw picture of the same shot belong together', () => {
    const raw = look('IMG_7.dng', { channels: 'camera', width: 202, height: 151 })
    const [photo, other] = [look('IMG_7.JPG'), look('IMG_8.JPG', { glow: glowAt(0.5, 300) })]
    expect(kinds([raw, photo])).toEqual(['pair 2'])
    expect(sortPhotos([raw, photo])[0]!.photos).toEqual([photo, raw])
    expect(kinds([photo, raw, other])).toEqual(['pair 2', 'single 1'])
    expect(kinds([{ ...raw, width: 150 }, photo])).not.toContain('pair 2')
  })
})

describe('how far photos may differ', () => {
  /** Red falls by so many times as many stops as the exposure does. */
  const stretched = (by: number) =>
    kinds(
      [0, 1, 2].map((stop) =>
        look(`s${stop}.jpg`, { exposure: 2 ** -stop, glow: glowAt(0.5 * 2 ** (-by * stop)) }),
      ),
    )
  /** Two photos of nearly one exposure, and one two stops darker than the first. */
  const nearlyAgain = (stops: number, levels: number) =>
    kinds([
      look('n1.jpg'),
      look('n2.jpg', { exposure: 2 ** -stops, glow: glowAt(0.5 * 2 ** -levels) }),
      look('n3.jpg', { exposure: 0.25, glow: glowAt(0.125) }),
    ])
  const apart = (seconds: number) => ({
    ...NO_FACTS,
    model: 'Made-up phone',
    takenAt: new Date(Date.UTC(2026, 2, 1, 10, 0, 0, 1000 * seconds)).toISOString(),
  })

  test('a card fills a good twelfth of its picture', () => {
    const card = (neutralShare: number) =>
      kinds([look('card.jpg', { glow: { kind: 'none', reason: 'lit scene' }, neutralShare })])
    expect(card(0.082)).toEqual(['card 1'])
    expect(card(0.078)).toEqual(['single 1'])
    // What glows is no card, however white the rest is.
    expect(kinds([look('bar.jpg', { neutralShare: 0.5 })])).toEqual(['single 1'])
  })

  test('a sweep is taken within minutes', () => {
    const pause = (seconds: number) =>
      kinds(
        sweep('x')
          .slice(0, 4)
          .map((one, i) => ({ ...one, facts: apart(i < 2 ? i : seconds + i) })),
      )
    expect(pause(4.8 * 60)).toEqual(['sweep 4'])
    expect(pause(5.2 * 60)).toEqual(['single 1 ?', 'single 1 ?', 'single 1 ?', 'single 1 ?'])
  })

  test('a tone curve stretches a stop to between half of one and two', () => {
    expect(stretched(1)).toEqual(['sweep 3'])
    expect(stretched(0.42)).toEqual(['sweep 3'])
    expect(stretched(2.15)).toEqual(['sweep 3'])
    for (const by of [0.38, 2.25]) expect(stretched(by)).not.toContain('sweep 3')
  })

  test('the same exposure shows the same level, nearly', () => {
    expect(nearlyAgain(0, 0.34)).toEqual(['sweep 3'])
    expect(nearlyAgain(0, 0.36)).not.toContain('sweep 3')
    // From a tenth of a stop on it is another exposure, of which the level has to tell.
    expect(nearlyAgain(0.096, 0.3)).toEqual(['sweep 3'])
    expect(nearlyAgain(0.104, 0.3)).not.toContain('sweep 3')
  })

  test('three photos are a sweep, and a sure one over two stops', () => {
    const over = (stops: number) =>
      kinds(
        [0, 0.5, 1].map((share, i) => ({
          ...look(`o${i}.jpg`, { exposure: 2 ** (-stops * share) }),
          glow: glowAt(0.5 * 2 ** (-stops * share)),
        })),
      )
    expect(over(2.01)).toEqual(['sweep 3'])
    expect(over(1.95)).toEqual(['sweep 3 ?'])
    expect(over(1.05)).toEqual(['sweep 3 ?'])
    expect(over(0.95)).toEqual(['single 1', 'single 1', 'single 1'])
    expect(
      kinds(
        sweep('x')
          .slice(0, 3)
          .map((one) => ({ ...one, exposure: null })),
      ),
    ).toEqual(['sweep 3 ?'])
  })

  test('a raw picture is of the shot whose shape and second it has', () => {
    const pair = (height: number, seconds: number) =>
      kinds([
        look('a.jpg', { width: 4000, height: 3000, facts: apart(0) }),
        look('b.dng', { channels: 'camera', width: 2000, height, facts: apart(seconds) }),
      ])
    expect(pair(1500, 0)).toEqual(['pair 2'])
    // ln of the shapes' ratio: 0.048 and 0.052.
    expect(pair(1574, 0)).toEqual(['pair 2'])
    expect(pair(1580, 0)).not.toContain('pair 2')
    expect(pair(1500, 1.45)).toEqual(['pair 2'])
    expect(pair(1500, -1.45)).toEqual(['pair 2'])
    expect(pair(1500, 1.55)).not.toContain('pair 2')
  })
})
