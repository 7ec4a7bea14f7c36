import { describe, expect, test } from 'vitest'
import { createImportedFiles } from '../../../src/session/spectrum/imported-files.ts'
import { NO_ROLES, type Purpose, type Roles } from '../../../src/session/spectrum/pick-roles.ts'
import { MAX_TEXT_BYTES } from '../../../src/sources/spectrum/decode-text.ts'
import type { SpectrumBench } from '../../../src/sources/spectrum/spectrum-client.ts'
import { directBench } from './direct-bench.ts'

/** Rows of wavelength and as many columns as there are headings; the first rises most. */
const table = (...headings: string[]) =>
  [
    ['nm', ...headings].join(';'),
    ...Array.from({ length: 12 }, (_, i) =>
      [500 + 10 * i, ...headings.map((_, column) => (100 * i) / (1 + 50 * column))].join(';'),
    ),
  ].join('\n')
const given = (name: string, step: Purpose, text = table('counts')) => ({
  name,
  step,
  text,
  simulated: null,
})
const opened = (bench: Partial<SpectrumBench> = {}) =>
  createImportedFiles({ ...directBench(), ...bench })

describe('texts with spectra', () => {
  test('give each column as a spectrum, under its file, for the step that it was given for', async () => {
    const imported = opened()
    await imported.addTexts([given('all.csv', 'instrument', table('Lamp', 'Dark'))])
    const [lamp, dark] = imported.spectra.value
    expect(imported.spectra.value).toHaveLength(2)
    expect(lamp).toMatchObject({ fileName: 'all.csv', step: 'instrument' })
    expect(lamp!.spectrum.name).toBe('Lamp')
    expect(dark!.key).not.toBe(lamp!.key)
    expect(imported.roles.value).toEqual({ ...NO_ROLES, lamp: lamp!.key, lampDark: dark!.key })
    expect(imported.spectrumOf(lamp!.key)).toBe(lamp!.spectrum)
    expect(imported.fileOf(dark!.key)?.name).toBe('all.csv')
    for (const none of [null, 'unknown'])
      expect([imported.spectrumOf(none), imported.fileOf(none)]).toEqual([null, undefined])
  })

  test('are there before they are read, without a spectrum', async () => {
    let release = () => {}
    const held = new Promise<void>((resolve) => {
      release = resolve
    })
    const { read } = directBench()
    const imported = opened({ read: (input) => held.then(() => read(input)) })
    const adding = imported.addTexts([given('glow.csv', 'glow')])
    expect(imported.files.value).toMatchObject([{ name: 'glow.csv', result: null, choices: {} }])
    expect(imported.spectra.value).toEqual([])
    release()
    await adding
    expect(imported.files.value[0]!.result?.ok).toBe(true)
  })

  test('of each step in one go play the parts of their steps', async () => {
    const imported = opened()
    const all = (['window', 'glow', 'instrument'] as const).map((step) => given(step, step))
    await imported.addTexts(all)
    const { lamp, glow, window } = imported.roles.value
    const played = [lamp, glow, window].map((key) => imported.fileOf(key)?.name)
    expect(played).toEqual(['instrument', 'glow', 'window'])
    // Of two tables of a window none is taken.
    await imported.addTexts([given('two', 'window', table('a', 'b'))])
    expect(imported.roles.value.window).toBeNull()
    expect(imported.roles.value.lamp).toBe(lamp)
  })
})

describe('files that are picked', () => {
  test('are read as text; the last that is none is named until the next are given', async () => {
    const imported = opened()
    const large = new File([new Uint8Array(MAX_TEXT_BYTES + 1)], 'film.mp4')
    const gone = new File(['500;1'], 'moved.csv')
    gone.arrayBuffer = () => Promise.reject(new DOMException('', 'NotFoundError'))
    const sound = new File([table('counts')], 'glow.csv')
    await imported.addFiles([gone, sound, large], 'glow')
    expect(imported.files.value.map(({ name, simulated }) => [name, simulated])).toEqual([
      ['glow.csv', null],
    ])
    expect(imported.refused.value).toEqual({
      name: 'film.mp4',
      step: 'glow',
      refusal: { code: 'file too large', bytes: MAX_TEXT_BYTES + 1, allowed: MAX_TEXT_BYTES },
    })
    await imported.addFiles([gone], 'window')
    expect(imported.refused.value).toMatchObject({
      name: 'moved.csv',
      step: 'window',
      refusal: { code: 'file unreadable' },
    })
    await imported.addFiles([], 'glow')
    expect(imported.refused.value).toBeNull()
  })

  test('one whose reader died goes, those beside it stay', async () => {
    const { read } = directBench()
    const dying: SpectrumBench['read'] = (input) =>
      input.text === 'deadly' ? Promise.reject(new Error('died')) : read(input)
    const imported = opened({ read: dying })
    await imported.addTexts([given('earlier.csv', 'instrument')])
    await imported.addTexts([given('a.csv', 'glow', 'deadly'), given('b.csv', 'glow')])
    expect(imported.files.value.map(({ name }) => name)).toEqual(['earlier.csv', 'b.csv'])
    expect(imported.refused.value).toEqual({
      name: 'a.csv',
      step: 'glow',
      refusal: { code: 'file unreadable' },
    })
    expect(imported.fileOf(imported.roles.value.glow)?.name).toBe('b.csv')
  })
})

describe('what the person says of a layout', () => {
  test('gives parts to a file that had none, and leaves those of another alone', async () => {
    const imported = opened()
    const mixed = given('glow.csv', 'glow')
    await imported.addTexts([mixed])
    const { id } = imported.files.value[0]!
    await imported.choose(id, { delimiter: 'tab' })
    expect(imported.files.value[0]).toMatchObject({ choices: { delimiter: 'tab' } })
    expect(imported.files.value[0]!.result?.ok).toBe(false)
    imported.roles.value = NO_ROLES
    await imported.choose(id, {})
    expect(imported.fileOf(imported.roles.value.glow)?.id).toBe(id)
    // It was readable: a part that the person has taken from it stays taken.
    imported.roles.value = NO_ROLES
    await imported.choose(id, { delimiter: 'semicolon' })
    expect(imported.files.value[0]!.result?.ok).toBe(true)
    expect(imported.roles.value).toEqual(NO_ROLES)
    await imported.choose('unknown', { delimiter: 'tab' })
    expect(imported.files.value.map(({ choices }) => choices)).toEqual([{ delimiter: 'semicolon' }])
  })

  test('changes nothing where the reader dies of it, and that is told until the next try', async () => {
    const { read } = directBench()
    const dying: SpectrumBench['read'] = (input) =>
      input.choices?.delimiter === 'tab' ? Promise.reject(new Error('died')) : read(input)
    const imported = opened({ read: dying })
    await imported.addTexts([given('glow.csv', 'glow')])
    const [file] = imported.files.value
    await imported.choose(file!.id, { delimiter: 'tab' })
    expect(imported.files.value).toEqual([file])
    expect(imported.refused.value?.name).toBe('glow.csv')
    await imported.choose(file!.id, {})
    expect(imported.refused.value).toBeNull()
  })
})

describe('a file that goes', () => {
  test('takes its own parts along, whichever they are, and no others', async () => {
    const imported = opened()
    await imported.addTexts([given('one', 'instrument'), given('two', 'glow')])
    const [one, two] = imported.spectra.value.map(({ key }) => key)
    const all = { lamp: one, lampDark: one, glow: one, glowDark: one, window: one } as Roles
    imported.roles.value = all
    imported.remove(imported.fileOf(two!)!.id)
    expect(imported.roles.value).toEqual(all)
    imported.remove(imported.fileOf(one!)!.id)
    expect(imported.roles.value).toEqual(NO_ROLES)
    expect(imported.files.value).toEqual([])
  })

  test('with all others leaves nothing, not even what was refused', async () => {
    const imported = opened({ read: () => Promise.reject(new Error('died')) })
    await imported.addTexts([given('a.csv', 'glow')])
    imported.roles.value = { ...NO_ROLES, glow: 'x/0' }
    imported.clear()
    expect(imported.roles.value).toEqual(NO_ROLES)
    expect([imported.files.value, imported.refused.value]).toEqual([[], null])
  })
})

test('texts of before a reload come back with the parts that they had, whatever fits by itself', async () => {
  const imported = opened()
  const text = { id: 'kept', choices: {}, ...given('glow.csv', 'glow') }
  await imported.restore([text], { ...NO_ROLES, lamp: 'kept/0' })
  expect(imported.files.value).toMatchObject([{ id: 'kept', result: { ok: true } }])
  expect(imported.roles.value).toEqual({ ...NO_ROLES, lamp: 'kept/0' })
  expect(imported.spectra.value[0]!.key).toBe('kept/0')
})
