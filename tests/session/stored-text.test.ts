import { signal } from '@preact/signals'
import { beforeEach, describe, expect, test, vi } from 'vitest'
import { firstValue } from '../../src/session/first-value.ts'
import { inSlices } from '../../src/session/in-slices.ts'
import { storeText } from '../../src/session/stored-text.ts'
import { numberText, typedNumber } from '../../src/session/typed-number.ts'
import { tabStorage } from './tab-storage.ts'

describe('text as it is typed', () => {
  let kept: Map<string, string>
  beforeEach(() => {
    kept = tabStorage()
  })

  test('comes back into an empty field, and not over what stands there', () => {
    const first = signal('')
    storeText('notes', first)
    first.value = 'quenched in oil'
    const again = signal('')
    storeText('notes', again)
    expect(again.value).toBe('quenched in oil')
    const other = signal('written elsewhere')
    storeText('notes', other)
    expect(other.value).toBe('written elsewhere')
  })

  test('comes back over the name that a thing has, and only where one was typed', () => {
    const name = signal('Shop card')
    storeText('name', name, 'Shop card')
    expect(kept.size).toBe(0)
    name.value = 'Card by the window'
    const again = signal('Shop card')
    storeText('name', again, 'Shop card')
    expect(again.value).toBe('Card by the window')
    again.value = 'Shop card'
    expect(kept.size).toBe(0)
  })

  test('has a place of its own by name', () => {
    const one = signal('')
    storeText('name', one)
    one.value = 'bar'
    const two = signal('')
    storeText('notes', two)
    expect(two.value).toBe('')
  })

  test('is forgotten when it is saved or emptied, and later typing leaves nothing', () => {
    const text = signal('')
    const forget = storeText('notes', text)
    text.value = 'a'
    expect(kept.size).toBe(1)
    text.value = ''
    expect(kept.size).toBe(0)
    text.value = 'b'
    forget()
    expect(kept.size).toBe(0)
    text.value = 'c'
    expect(kept.size).toBe(0)
  })

  test('goes on without storage', () => {
    const refuse = () => {
      throw new Error('refused')
    }
    vi.stubGlobal('sessionStorage', { getItem: refuse, setItem: refuse, removeItem: refuse })
    const text = signal('')
    const forget = storeText('notes', text)
    text.value = 'a'
    forget()
    expect(text.value).toBe('a')
  })
})

describe('a number as people type it', () => {
  test('has a point or a comma, a sign, and blanks around it', () => {
    expect(typedNumber(' 12,5 ')).toBe(12.5)
    expect(typedNumber('.5')).toBe(0.5)
    expect(typedNumber('5.')).toBe(5)
    expect(typedNumber('+3')).toBe(3)
    expect(typedNumber('-3')).toBe(-3)
    expect(typedNumber('−3,25')).toBe(-3.25)
  })

  test('is none with anything else about it', () => {
    for (const text of ['', ' ', '.', '-', '1e3', '1,200.5', '1 200', '12 °C', 'x5', '0x10', '--1'])
      expect(typedNumber(text), text).toBeNull()
  })

  test('goes back into its field without zeros behind it', () => {
    expect(numberText(12.5, 2)).toBe('12.5')
    expect(numberText(12, 2)).toBe('12')
    expect(numberText(1 / 3, 2)).toBe('0.33')
    expect(numberText(null, 2)).toBe('')
    expect(numberText(undefined, 2)).toBe('')
    expect(numberText(0, 1)).toBe('0')
  })
})

describe('waiting for a signal', () => {
  test('ends with its first value, be it there already or not', async () => {
    expect(await firstValue(signal<number | null>(0))).toBe(0)
    const later = signal<string | null>(null)
    const waited = firstValue(later)
    later.value = 'there'
    later.value = 'another'
    expect(await waited).toBe('there')
  })
})

describe('work in slices', () => {
  function* counting(pauses: number, done: number[]): Generator<void, string> {
    for (let i = 0; i < pauses; i++) {
      done.push(i)
      yield
    }
    return 'end'
  }

  test('runs to its end and lets others run at each pause', async () => {
    const done: number[] = []
    let between = 0
    setTimeout(() => {
      between = done.length
    }, 0)
    expect(await inSlices(counting(3, done), new AbortController().signal)).toBe('end')
    expect(done).toEqual([0, 1, 2])
    expect(between).toBe(1)
  })

  test('ends early when it is stopped', async () => {
    const done: number[] = []
    const work = new AbortController()
    const running = inSlices(counting(3, done), work.signal)
    work.abort()
    expect(await running).toBeUndefined()
    expect(done).toEqual([0])
  })
})
