import { expect, test } from 'vitest'
import {
  type ImportedSpectrum,
  isDarkName,
  NO_ROLES,
  proposeRoles,
  type Step,
} from '../../../src/session/spectrum/pick-roles.ts'

const GRID = [500, 510, 520, 530, 540, 550, 560, 570]

function importedSpectrum(
  key: string,
  fileName: string,
  name: string | null,
  top: number,
  step: Step = 'instrument',
): ImportedSpectrum {
  const signal = GRID.map((_, i) => 1200 + top * Math.sin((Math.PI * i) / 7))
  return { key, fileName, step, spectrum: { name, wavelengthNm: GRID, signal } }
}

test('columns named lamp, glow and dark find their parts', () => {
  const added = [
    importedSpectrum('a', 'all.csv', 'Glow', 9000),
    importedSpectrum('b', 'all.csv', 'Dark', 10),
    importedSpectrum('c', 'all.csv', 'Lamp', 40_000),
  ]
  expect(proposeRoles(NO_ROLES, added, 'instrument')).toEqual({
    lamp: 'c',
    lampDark: 'b',
    window: null,
    glow: 'a',
    glowDark: 'b',
  })
})

test('without names the strong one is the light and a weak one its dark', () => {
  const added = [
    importedSpectrum('weak', '1.txt', null, 30),
    importedSpectrum('strong', '2.txt', null, 30_000),
  ]
  expect(proposeRoles(NO_ROLES, added, 'glow')).toEqual({
    ...NO_ROLES,
    glow: 'strong',
    glowDark: 'weak',
  })
})

test('where several could be meant none is taken', () => {
  const several = [
    importedSpectrum('a', 'all.csv', 'Glow 1', 39_000),
    importedSpectrum('b', 'all.csv', 'Glow 2', 40_000),
    importedSpectrum('c', 'all.csv', 'Glow 3', 9_000),
  ]
  expect(proposeRoles(NO_ROLES, several, 'glow')).toEqual(NO_ROLES)
  const twoFiles = [
    importedSpectrum('a', '1.txt', null, 20_000),
    importedSpectrum('b', '2.txt', null, 30_000),
  ]
  expect(proposeRoles(NO_ROLES, twoFiles, 'instrument')).toEqual(NO_ROLES)
})

test('a file’s name gives no part: what is opened as the glow is the glow', () => {
  const added = [importedSpectrum('f', 'filament-12V.csv', null, 40_000, 'glow')]
  expect(proposeRoles(NO_ROLES, added, 'glow')).toEqual({ ...NO_ROLES, glow: 'f' })
  const dark = [
    importedSpectrum('a', 'dark.csv', null, 20_000),
    importedSpectrum('b', 'lamp.csv', null, 30_000),
  ]
  expect(proposeRoles(NO_ROLES, dark, 'instrument')).toEqual(NO_ROLES)
})

test('the dark of the same file comes before another file’s', () => {
  const added = [
    importedSpectrum('other', 'other dark.csv', 'Dark', 10),
    importedSpectrum('light', 'lamp.csv', 'Signal', 40_000),
    importedSpectrum('own', 'lamp.csv', 'Dark', 12),
  ]
  expect(proposeRoles(NO_ROLES, added, 'instrument').lampDark).toBe('own')
})

test('a later file leaves the parts of the other step alone', () => {
  const before = { ...NO_ROLES, lamp: 'l', lampDark: 'd' }
  const added = [importedSpectrum('g', 'glow.csv', null, 5000, 'glow')]
  expect(proposeRoles(before, added, 'glow')).toEqual({ ...before, glow: 'g' })
})

test('a dark alone changes nothing', () => {
  const before = { ...NO_ROLES, glow: 'g' }
  expect(proposeRoles(before, [importedSpectrum('d', 'x.csv', 'Dark', 5)], 'instrument')).toEqual(
    before,
  )
})

test('a column from which the dark was taken off is light', () => {
  expect(
    ['Dark', 'dark corrected', 'Light minus dark', 'Background', null].map(isDarkName),
  ).toEqual([true, false, false, true, false])
})

test('a tenth of the light is no dark: below it one is taken, from it on the person is asked', () => {
  const proposed = (share: number) =>
    proposeRoles(
      NO_ROLES,
      [
        importedSpectrum('weak', '1.txt', null, 30_000 * share),
        importedSpectrum('strong', '2.txt', null, 30_000),
      ],
      'glow',
    )
  expect(proposed(0.096)).toEqual({ ...NO_ROLES, glow: 'strong', glowDark: 'weak' })
  expect(proposed(0.104)).toEqual(NO_ROLES)
})
