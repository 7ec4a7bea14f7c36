import type { App } from './app.ts'

/** Steps that many journeys share. */

const oneLine = (text: string) => text.replace(/\s+/g, ' ').trim()

/** The figure with its range, once it stands there. */
export const figure = async (app: App, of = '.temperature') => oneLine(await app.textOf(of, /\d/))

/** Opens the simulated photo that comes with the app, and waits for its figure. */
export async function practicePhoto(app: App): Promise<string> {
  await app.press(/Practice photo/)
  return figure(app)
}

/** Saves what is open. Where no surface was ever said it is asked then. */
export async function saveReading(app: App): Promise<void> {
  await app.press('Save reading')
  const asked = await app.run<boolean>(
    "return document.querySelector('dialog[open] select') !== null",
  )
  if (asked) {
    await app.choose('Surface', 'cavity')
    await app.run("document.querySelector('dialog[open] button[type=submit]').click()")
  }
  await app.see('Saved.')
}

/** Nothing is open any more: putting a photo away takes a moment after the press. */
export async function putAway(app: App): Promise<void> {
  await app.press('New photo')
  await app.run(`
    for (const name of await caches.keys()) if (name.includes('in-hand')) await caches.delete(name)`)
}
