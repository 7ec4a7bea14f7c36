import { batch, computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { ImportChoices, ImportResult } from '../../light/spectrum-import/result.ts'
import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'
import { newUuid } from '../../log/schema/uuid.ts'
import { readTextFile, type TextRefusal } from '../../sources/spectrum/decode-text.ts'
import type { SpectrumBench } from '../../sources/spectrum/spectrum-client.ts'
import {
  type ImportedSpectrum,
  NO_ROLES,
  type Purpose,
  proposeRoles,
  type Roles,
} from './pick-roles.ts'

/** A text that was given, before anything is kept. */
export interface ImportedText {
  readonly id: string
  readonly name: string
  readonly step: Purpose
  readonly text: string
  /** What the person says of its layout. */
  readonly choices: ImportChoices
  /** For simulated light: the true temperature of the glow in it (null in a lamp's). */
  readonly simulated: { readonly truthK: number | null } | null
}

export interface ImportedFile extends ImportedText {
  /** Null while it is being read. */
  readonly result: ImportResult | null
}

export interface RefusedText {
  readonly name: string
  readonly step: Purpose
  readonly refusal: TextRefusal
}

/** Texts that were given and the spectra found in them, with the part that each plays. */
export interface ImportedFiles {
  readonly files: ReadonlySignal<readonly ImportedFile[]>
  /** The last file that was no text. */
  readonly refused: ReadonlySignal<RefusedText | null>
  readonly spectra: ReadonlySignal<readonly ImportedSpectrum[]>
  readonly roles: Signal<Roles>
  addFiles(files: readonly File[], step: Purpose): Promise<void>
  addTexts(texts: readonly Omit<ImportedText, 'id' | 'choices'>[]): Promise<void>
  /** Reads a file again with what the person says of its layout. */
  choose(id: string, choices: ImportChoices): Promise<void>
  remove(id: string): void
  fileOf(key: string | null): ImportedFile | undefined
  spectrumOf(key: string | null): Spectrum | null
  restore(texts: readonly ImportedText[], roles: Roles): Promise<void>
  clear(): void
}

const keyOf = (fileId: string, index: number) => `${fileId}/${index}`

export function createImportedFiles(bench: SpectrumBench): ImportedFiles {
  const files = signal<readonly ImportedFile[]>([])
  const refused = signal<RefusedText | null>(null)
  const roles = signal<Roles>(NO_ROLES)
  const spectra = computed(() => files.value.flatMap(spectraOf))
  const byKey = computed(() => new Map(spectra.value.map((one) => [one.key, one.spectrum])))

  const read = async (text: ImportedText): Promise<ImportedFile | null> => {
    try {
      return { ...text, result: await bench.read({ text: text.text, choices: text.choices }) }
    } catch {
      // What reads has died; another one reads the next text.
      refused.value = { name: text.name, step: text.step, refusal: { code: 'file unreadable' } }
      return null
    }
  }
  const put = (file: ImportedFile) => {
    files.value = files.peek().map((other) => (other.id === file.id ? file : other))
  }

  /** Those that could be read. */
  const add = async (texts: readonly ImportedText[]): Promise<readonly ImportedFile[]> => {
    files.value = [...files.peek(), ...texts.map((text) => ({ ...text, result: null }))]
    const found = await Promise.all(
      texts.map(async (text) => {
        const file = await read(text)
        if (file) put(file)
        return file
      }),
    )
    return found.filter((file) => file !== null)
  }

  return {
    files,
    refused,
    spectra,
    roles,
    async addFiles(given, step) {
      const texts: Omit<ImportedText, 'id' | 'choices'>[] = []
      refused.value = null
      for (const file of given) {
        const read = await readTextFile(file)
        if (read.ok) texts.push({ name: file.name, step, text: read.text, simulated: null })
        else refused.value = { name: file.name, step, refusal: read.refusal }
      }
      await this.addTexts(texts)
    },
    async addTexts(given) {
      const texts = given.map((text) => ({ ...text, id: newUuid(), choices: {} }))
      const added = await add(texts)
      const unread = new Set(texts.map(({ id }) => id))
      for (const { id } of added) unread.delete(id)
      // What an earlier visit has left stays: it is read at a reload.
      files.value = files.peek().filter(({ id }) => !unread.has(id))
      for (const step of ['instrument', 'glow', 'window'] as const) {
        const found = added.filter((file) => file.step === step).flatMap(spectraOf)
        if (found.length > 0) roles.value = proposeRoles(roles.peek(), found, step)
      }
    },
    async choose(id, choices) {
      const file = files.peek().find((other) => other.id === id)
      if (!file) return
      refused.value = null
      const again = await read({ ...file, choices })
      if (!again) return
      const hadNone = file.result?.ok !== true
      put(again)
      if (hadNone && again.result?.ok) {
        roles.value = proposeRoles(roles.peek(), spectraOf(again), file.step)
      }
    },
    remove(id) {
      const gone = (key: string | null) => (key?.startsWith(`${id}/`) ? null : key)
      const { lamp, lampDark, glow, glowDark, window } = roles.peek()
      batch(() => {
        files.value = files.peek().filter((file) => file.id !== id)
        roles.value = {
          lamp: gone(lamp),
          lampDark: gone(lampDark),
          glow: gone(glow),
          glowDark: gone(glowDark),
          window: gone(window),
        }
      })
    },
    fileOf: (key) => files.value.find(({ id }) => key?.startsWith(`${id}/`)),
    spectrumOf: (key) => (key === null ? null : (byKey.value.get(key) ?? null)),
    async restore(texts, kept) {
      await add(texts)
      roles.value = kept
    },
    clear() {
      batch(() => {
        files.value = []
        refused.value = null
        roles.value = NO_ROLES
      })
    },
  }
}

function spectraOf({ id, name, step, result }: ImportedFile): ImportedSpectrum[] {
  if (!result?.ok) return []
  return result.spectra.map((spectrum, index) => ({
    key: keyOf(id, index),
    fileName: name,
    step,
    spectrum,
  }))
}
