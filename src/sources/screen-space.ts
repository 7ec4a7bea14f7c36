import type { ScreenSpace } from '../colour/screen-gamut.ts'

/** What this screen can show; asked once. */
export const screenSpace: ScreenSpace =
  typeof matchMedia === 'function' && matchMedia('(color-gamut: p3)').matches
    ? 'display-p3'
    : 'srgb'
