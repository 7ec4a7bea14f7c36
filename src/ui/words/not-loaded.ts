import type { Notice } from './estimate.ts'

export const NOT_LOADED: Notice = {
  weight: 'stop',
  title: 'This part of the app could not be loaded',
  todo: 'There is no network, or a newer version has taken its place. An open photo is kept over a reload; save a sweep first.',
}

/** What browsers reject a missing file of the app with: Chromium, Firefox, WebKit, the loader of styles. */
export const isNotLoaded = (error: unknown): boolean =>
  /dynamically imported module|Importing a module script failed|preload CSS/i.test(String(error))
