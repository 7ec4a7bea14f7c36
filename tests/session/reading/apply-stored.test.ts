import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { Region } from '../../../src/light/image.ts'
import { applyStored, withHeldLock } from '../../../src/session/reading/apply-stored.ts'
import { FIRST_CHOICES } from '../../../src/session/reading/glow-input.ts'
import type { StoredForPhoto } from '../../../src/session/reading/stored-for-photo.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

const REGION: Region = { shape: 'rectangle', x: 10, y: 10, width: 20, height: 20 }
const CARD_HERE: Region = { ...REGION, x: 50 }
const LOCKED = { kind: 'daylight', colourTemperatureK: null } as const
const KEPT = { id: 'kept card', name: 'Card of May' }
const NOTHING: StoredForPhoto = {
  balanceState: null,
  card: null,
  cardInPicture: false,
  rawWanted: false,
  usual: null,
  contradictions: [],
}
const USUAL = { object: 'bar', materialId: 'steel-oxidised', cover: 'glass' }

function reading({ truthK = null as number | null, takesUsual = true, open = true } = {}) {
  const photo = signal(open ? ({ width: 200, height: 100 } as Photo) : null)
  const set: { region?: Region; card?: Region; placed?: boolean } = {}
  const greySource = signal<unknown>({ kind: 'none' })
  const parts = {
    kit: { greys: signal([KEPT]), cameras: signal([]), heats: signal([]), curves: signal([]) },
    glow: {
      photo,
      setRegion(next: Region) {
        set.region = next
      },
    },
    grey: {
      greySource,
      cardLight: signal<unknown>({ kind: 'daylight', illuminant: 'D65' }),
      startCardHere(next: Region, placed = false) {
        set.card = next
        set.placed = placed
        greySource.value = { kind: 'this photo' }
      },
      setCardRegion(next: Region) {
        set.card = next
      },
    },
    choices: signal(FIRST_CHOICES),
    object: signal(''),
    device: signal('Made-up phone'),
    simulatedTruthK: signal(truthK),
    takesUsual,
  }
  return { parts, set }
}
const apply = (
  made: ReturnType<typeof reading>,
  found: Partial<StoredForPhoto>,
  notes: object | null = null,
) => applyStored(made.parts as never, { ...NOTHING, ...found }, notes as never)

describe('what the kit holds, applied to a new photo', () => {
  test('is the lock, the card and what is usual with the camera', () => {
    const made = reading()
    apply(made, { balanceState: LOCKED, card: KEPT as never, usual: USUAL })
    const { choices, object, grey } = made.parts
    expect(choices.value).toEqual({
      materialId: 'steel-oxidised',
      cover: 'glass',
      balanceState: LOCKED,
    })
    expect(object.value).toBe('bar')
    expect(grey.greySource.value).toEqual({ kind: 'kept', grey: KEPT })
  })

  test('does not replace what the person has said', () => {
    const made = reading()
    made.parts.choices.value = { ...FIRST_CHOICES, materialId: 'tungsten-bare' }
    made.parts.object.value = 'filament'
    made.parts.grey.greySource.value = { kind: 'other photo' }
    apply(made, { card: KEPT as never, usual: USUAL })
    expect(made.parts.choices.value).toEqual({ ...FIRST_CHOICES, materialId: 'tungsten-bare' })
    expect(made.parts.object.value).toBe('filament')
    expect(made.parts.grey.greySource.value).toEqual({ kind: 'other photo' })
  })

  test('is not what is usual, where that is not wanted', () => {
    const made = reading({ takesUsual: false })
    apply(made, { balanceState: LOCKED, usual: USUAL })
    expect(made.parts.choices.value).toEqual({ ...FIRST_CHOICES, balanceState: LOCKED })
    expect(made.parts.object.value).toBe('')
  })

  test('of a simulated glow is the surface that it was made with', () => {
    const made = reading({ truthK: 1200 })
    apply(made, {})
    expect(made.parts.choices.value.materialId).toBe('steel-oxidised')
    const said = reading({ truthK: 1200 })
    said.parts.choices.value = { ...FIRST_CHOICES, materialId: 'tungsten-bare' }
    apply(said, {})
    expect(said.parts.choices.value.materialId).toBe('tungsten-bare')
    const real = reading()
    apply(real, {})
    expect(real.parts.choices.value.materialId).toBe('')
  })

  test('is nothing without a photo', () => {
    const made = reading({ open: false })
    apply(made, { balanceState: LOCKED, usual: USUAL })
    expect(made.parts.choices.value).toBe(FIRST_CHOICES)
  })
})

describe('work that comes back', () => {
  const notes = {
    region: REGION,
    choices: { ...FIRST_CHOICES, materialId: 'tungsten-bare' },
    cardLight: { kind: 'filament', colourTemperatureK: 2700, standardUncertaintyK: 100 },
    cardRegionHere: null,
    object: 'filament',
  }

  test('stands over what the kit holds', () => {
    const made = reading()
    apply(made, { balanceState: LOCKED, usual: USUAL }, notes)
    expect(made.parts.choices.value).toEqual(notes.choices)
    expect(made.parts.object.value).toBe('filament')
    expect(made.parts.grey.cardLight.value).toEqual(notes.cardLight)
    expect(made.set.region).toEqual(REGION)
    expect(made.set.card).toBeUndefined()
  })

  test('has its card in the picture, that of the kit, or none, as it was', () => {
    const here = reading()
    apply(here, { card: KEPT as never }, { ...notes, cardRegionHere: CARD_HERE })
    expect(here.set.card).toEqual(CARD_HERE)
    expect(here.parts.grey.greySource.value).toEqual({ kind: 'this photo' })

    const kept = reading()
    apply(kept, {}, { ...notes, greyId: 'kept card' })
    expect(kept.parts.grey.greySource.value).toEqual({ kind: 'kept', grey: KEPT })

    const none = reading()
    apply(none, { card: KEPT as never }, { ...notes, greyId: null })
    expect(none.parts.grey.greySource.value).toEqual({ kind: 'none' })

    const gone = reading()
    apply(gone, { card: KEPT as never }, { ...notes, greyId: 'thrown away' })
    expect(gone.parts.grey.greySource.value).toEqual({ kind: 'kept', grey: KEPT })
  })

  test('has no region set where none was', () => {
    const made = reading()
    apply(made, {}, { ...notes, region: null, object: undefined })
    expect(made.set.region).toBeUndefined()
    expect(made.parts.object.value).toBe('')
  })
})

describe('a lock that two cards have shown to hold', () => {
  const choices = { ...FIRST_CHOICES, balanceState: LOCKED }
  const held = { ...NOTHING, heldSince: 'Card of May' }

  test('counts as verified, unless the person says otherwise', () => {
    expect(withHeldLock(choices, held).balanceState).toEqual({ ...LOCKED, lock: 'verified' })
    const said = { ...choices, balanceState: { ...LOCKED, lock: 'stated' as const } }
    expect(withHeldLock(said as never, held)).toBe(said)
    expect(withHeldLock(choices, NOTHING)).toBe(choices)
    expect(withHeldLock(choices, null)).toBe(choices)
  })
})
