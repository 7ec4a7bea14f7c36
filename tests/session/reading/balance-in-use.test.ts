import { signal } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import type { GreyBalance } from '../../../src/estimate/types.ts'
import { lensShading } from '../../../src/light/lens-shading.ts'
import { balanceInUse } from '../../../src/session/reading/apply-stored.ts'
import type { RawPairModel } from '../../../src/session/reading/raw-pair-model.ts'
import { CARD } from '../../estimate/inputs.ts'

const { id: _, ...gains } = CARD
const pair = {
  id: 'shot',
  result: signal({ kind: 'measured', balance: gains }),
} as unknown as RawPairModel
const grey = (balance: GreyBalance | null, kind: string) =>
  ({
    balance: signal(balance),
    greySource: signal({ kind }),
    lensPlaces: signal(null),
  }) as Parameters<typeof balanceInUse>[0]
const withCard = (kind: string) => grey(CARD, kind)
const without = grey(null, 'none')

describe('the balance that a photo is read by', () => {
  it('is that of its card, which moves with the glow in the very picture', () => {
    expect(balanceInUse(withCard('this photo'), null, pair)).toEqual({ ...CARD, samePicture: true })
    expect(balanceInUse(withCard('kept'), null, pair)).toEqual(CARD)
  })

  it('is less sure where card and glow lie far apart in the picture', () => {
    // From the middle to three quarters of the way to the corner.
    const shading = lensShading(0, 0.75, 'display-p3')
    const lensPlaces = signal({ glow: 0, card: 0.75, channels: 'display-p3' } as const)
    const far = balanceInUse({ ...withCard('this photo'), lensPlaces }, null)!
    expect(shading).toBeCloseTo(0.01125, 9)
    expect(far.covariance[1][1]).toBeCloseTo(CARD.covariance[1][1] + shading ** 2, 12)
    expect(far.covariance[2][2]).toBeCloseTo(CARD.covariance[2][2] + 4 * shading ** 2, 12)
    expect(far.logGains).toEqual(CARD.logGains)

    // The corner stores 4 % more green: so does the card, and the glow in the middle does not.
    const flatField = { green: 0.04, blue: 0.02, uncertainty: 0.004 }
    const found = { flatField } as Parameters<typeof balanceInUse>[1]
    const known = balanceInUse({ ...withCard('this photo'), lensPlaces }, found)!
    const [red, green, blue] = CARD.logGains
    expect(known.logGains).toEqual([red, green + 0.0225, blue + 0.01125])
    expect(known.covariance[1][1]).toBeCloseTo(CARD.covariance[1][1] + 0.00225 ** 2, 12)
  })

  it('is without a card that which the raw picture of the shot gives', () => {
    expect(balanceInUse(without, null, pair)).toEqual({ ...gains, id: 'shot', samePicture: true })
    const open = { ...pair, result: signal({ kind: 'measured', balance: null }) }
    expect(balanceInUse(without, null, open as unknown as RawPairModel)).toBeNull()
    expect(balanceInUse(without, null, null)).toBeNull()
  })
})
