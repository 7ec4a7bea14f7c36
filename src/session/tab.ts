/**
 * Drafts belong to one tab. Its name lives as long as the tab does, over reloads; a tab that finds the
 * drafts of one that has gone (closed by mistake, ended by the system) takes them over with its name.
 */
const KEY = 'glowbook.tab'
/** The first tab's name: what a single tab keeps lies under plain names. */
const FIRST = ''
const SEPARATOR = ' of tab '

let mine: Promise<string> | undefined

/** `base` as this tab calls it. */
export async function nameInTab(base: string): Promise<string> {
  mine ??= takeName()
  const tab = await mine
  return tab === FIRST ? base : `${base}${SEPARATOR}${tab}`
}

async function takeName(): Promise<string> {
  if (!('locks' in navigator)) return FIRST
  try {
    for (const name of [...former(), FIRST, ...(await leftOver())]) {
      if (await hold(name)) return keep(name)
    }
    const name = Math.random().toString(36).slice(2)
    return (await hold(name)) ? keep(name) : FIRST
  } catch {
    return FIRST
  }
}

/** Holds a name until the page goes away; false when another tab has it. */
function hold(name: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    navigator.locks
      .request(`${KEY} ${name}`, { ifAvailable: true }, (lock) => {
        resolve(lock !== null)
        return lock === null ? undefined : new Promise(() => {})
      })
      .catch(reject)
  })
}

function keep(name: string): string {
  sessionStorage.setItem(KEY, name)
  return name
}

function former(): string[] {
  const name = sessionStorage.getItem(KEY)
  return name === null ? [] : [name]
}

/** Names under which something lies. */
async function leftOver(): Promise<string[]> {
  const names = (await caches.keys()).map((key) => key.split(SEPARATOR)[1])
  return [...new Set(names.filter((name) => name !== undefined))]
}
