import { effect, signal } from '@preact/signals'
import { storedSetting, storeSetting } from './settings.ts'

/**
 * How the app looks: by the system's own light or dark setting, for a bench in daylight, dark, or for
 * an eye used to the dark: deep red on black, the lowest light that can still be read.
 */
export const LOOKS = ['system', 'bench', 'dark', 'dark-shop'] as const
export type Look = (typeof LOOKS)[number]

export const LOOK_NAMES: Record<Look, string> = {
  system: 'As the phone',
  bench: 'Bench',
  dark: 'Dark',
  'dark-shop': 'Dark shop',
}

export const screenLook = signal<Look>('system')

const STORED = 'glowbook.look'
/** Ground colours of the looks, for the browser's own frame around the page. */
const GROUND = { bench: '#faf6f1', dark: '#0e0c0b', 'dark-shop': '#000000' } as const

const isLook = (text: string | null): text is Look => LOOKS.some((name) => name === text)

/** Reads the look and keeps it from then on; before the first paint, so that nothing flashes. */
export function startLook(): () => void {
  const stored = storedSetting(STORED)
  if (isLook(stored)) screenLook.value = stored
  const light = matchMedia('(prefers-color-scheme: light)')
  const apply = () => {
    const shown =
      screenLook.value === 'system' ? (light.matches ? 'bench' : 'dark') : screenLook.value
    document.documentElement.dataset.look = shown
    document.querySelector('meta[name=theme-color]')?.setAttribute('content', GROUND[shown])
  }
  light.addEventListener('change', apply)
  const stop = effect(() => {
    apply()
    storeSetting(STORED, screenLook.value)
  })
  return () => {
    light.removeEventListener('change', apply)
    stop()
  }
}
