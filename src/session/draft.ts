import { signal } from '@preact/signals'
import { nameInTab } from './tab.ts'

/**
 * Work that is not saved yet, kept across a reload: an update, a phone that ran out of memory, a tab
 * closed by mistake. The Cache API holds it: it takes blobs of any size, one entry a name, and has no
 * schema to migrate.
 */
export interface Draft {
  /** Stores plain JSON under a name; never rejects, see {@link draftRefused}. */
  store(name: string, value: unknown): Promise<void>
  /** What was stored under a name, not validated; undefined when nothing was. */
  find(name: string): Promise<unknown>
  /** Stores the photo that the work is about; the notes of a former photo go. */
  storePhoto(photo: DraftPhoto): Promise<void>
  photo(): Promise<DraftPhoto | undefined>
  discard(): Promise<void>
}

export interface DraftPhoto {
  readonly blob: Blob
  readonly name: string
  /** For simulated photos: the true temperature, K. */
  readonly truthK: number | null
  /** The raw file of the same shot. */
  readonly raw?: File
}

/** What was last to be stored found no room: a reload would lose it. */
export const draftRefused = signal(false)
/** By draft and name. */
const refused = new Set<string>()

/** Under this name the choices beside a photo are stored. */
export const NOTES = 'notes'
const PHOTO = 'photo'
const RAW = 'raw'
const named = ({ name }: { readonly name: string }) => ({ 'x-name': encodeURIComponent(name) })
const nameOf = ({ headers }: Response) => decodeURIComponent(headers.get('x-name') ?? 'photo')

const addressOf = (name: string) => `/in-hand/${encodeURIComponent(name)}`

/** @param base name of the cache; each screen has one of its own, in each tab */
export function draftOf(base: string): Draft {
  const cacheName = () => nameInTab(base)
  /** One after the other: what was said first must not be stored last. */
  let writes: Promise<unknown> = Promise.resolve()
  const afterWrites = (what: string, work: (name: string) => Promise<unknown>): Promise<void> => {
    if (!('caches' in globalThis)) return Promise.resolve()
    const tell = (is: boolean) => () => {
      if (is) refused.add(`${base} ${what}`)
      else refused.delete(`${base} ${what}`)
      draftRefused.value = refused.size > 0
    }
    const done = writes.then(cacheName).then(work).then(tell(false), tell(true))
    writes = done
    return done
  }
  const write = (what: string, work: (cache: Cache) => Promise<unknown>) =>
    afterWrites(what, async (name) => work(await caches.open(name)))
  const read = async (name: string): Promise<Response | undefined> => {
    if (!('caches' in globalThis)) return undefined
    await writes
    const own = await cacheName()
    return (await caches.has(own)) ? (await caches.open(own)).match(addressOf(name)) : undefined
  }
  return {
    store: (name, value) =>
      write(name, (cache) => cache.put(addressOf(name), new Response(JSON.stringify(value)))),

    async find(name) {
      try {
        return await (await read(name))?.json()
      } catch {
        return undefined
      }
    },

    storePhoto: (photo) =>
      write(PHOTO, async (cache) => {
        const { blob, truthK, raw } = photo
        // The former photo too: one that finds no room must not be followed by another one's notes.
        await Promise.all([PHOTO, NOTES, RAW].map((name) => cache.delete(addressOf(name))))
        const headers = { ...named(photo), 'x-truth': truthK === null ? '' : `${truthK}` }
        await cache.put(addressOf(PHOTO), new Response(blob, { headers }))
        if (raw) await cache.put(addressOf(RAW), new Response(raw, { headers: named(raw) }))
      }),

    async photo() {
      try {
        const found = await read(PHOTO)
        if (!found) return undefined
        const truth = found.headers.get('x-truth')
        const raw = await read(RAW)
        return {
          blob: await found.blob(),
          name: nameOf(found),
          truthK: truth ? Number(truth) : null,
          ...(raw ? { raw: new File([await raw.blob()], nameOf(raw)) } : {}),
        }
      } catch {
        return undefined
      }
    },

    discard: () =>
      afterWrites(PHOTO, async (name) => {
        await caches.delete(name)
        // What was to be kept and had no room is wanted no more.
        for (const one of refused) if (one.startsWith(`${base} `)) refused.delete(one)
      }),
  }
}

export const readingDraft = draftOf('work-in-hand')
export const captureDraft = draftOf('kit-in-hand')
export const spectrumDraft = draftOf('spectrum-in-hand')

/** For work whose photos are files of the person's own: nothing survives a reload. */
export const NO_DRAFT: Draft = {
  store: async () => undefined,
  find: async () => undefined,
  storePhoto: async () => undefined,
  photo: async () => undefined,
  discard: async () => undefined,
}
