import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import type { Step } from '../../session/spectrum/pick-roles.ts'
import { SPECTRUM_TEXT_TYPES } from '../../sources/spectrum/text-types.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { CHECK_WORDS } from '../../ui/words/spectrum.ts'
import { IMPORT_WORDS, textRefusalNotice } from '../../ui/words/spectrum-import.ts'
import { FilePreview } from './file-preview.tsx'
import { SpectrumPicker } from './spectrum-picker.tsx'

/** Spectra for one step: from files, dropped or pasted; what was understood; light and dark. */
export function ImportPanel({
  model,
  step,
  label,
}: {
  model: SpectrumModel
  step: Step
  label: string
}) {
  const { imported } = model
  const open = (files: readonly File[]) => void imported.addFiles(files, step)
  useDroppedTexts(open)
  const files = imported.files.value.filter((file) => file.step === step)
  const refused = imported.refused.value
  return (
    <section class="stack" aria-label={label}>
      <div class="row">
        <div class="grow">
          <FileButton
            primary={files.length === 0}
            accept={SPECTRUM_TEXT_TYPES.join(',')}
            multiple
            onFiles={open}
          >
            {files.length === 0 ? label : 'More files'}
          </FileButton>
        </div>
        <PasteButton onText={(text) => open([new File([text], 'Pasted text')])} />
      </div>
      {refused?.step === step && (
        <Notices notices={[textRefusalNotice(refused.refusal, refused.name)]} />
      )}
      {files.length === 0 && <p class="small soft">{IMPORT_WORDS.local}</p>}
      {files.map((file) => (
        <FilePreview
          key={file.id}
          file={file}
          onChoices={(choices) => void imported.choose(file.id, choices)}
          onRemove={() => imported.remove(file.id)}
        />
      ))}
      {imported.spectra.value.some((one) => one.step !== 'window') && (
        <Parts model={model} step={step} />
      )}
    </section>
  )
}

/** Which spectrum is the light and which its dark. */
function Parts({ model, step }: { model: SpectrumModel; step: Step }) {
  const { roles, spectra } = model.imported
  const [light, dark] =
    step === 'instrument' ? (['lamp', 'lampDark'] as const) : (['glow', 'glowDark'] as const)
  // Those of this step first: a file may hold everything.
  const offered = spectra.value
    .filter((one) => one.step !== 'window')
    .toSorted((a, b) => Number(b.step === step) - Number(a.step === step))
  const choose = (part: keyof typeof roles.value) => (key: string | null) => {
    roles.value = { ...roles.value, [part]: key }
  }
  const unchosen = roles.value[light] === null && offered.some((one) => one.step === step)
  return (
    <>
      {unchosen && <Notices notices={[{ weight: 'warn', title: CHECK_WORDS.ask, todo: '' }]} />}
      <div class="row">
        <SpectrumPicker
          label={step === 'instrument' ? 'Reference' : 'Glow'}
          none="Choose …"
          spectra={offered}
          value={roles.value[light]}
          onValue={choose(light)}
        />
        <SpectrumPicker
          label="Its dark"
          none="None"
          spectra={offered}
          value={roles.value[dark]}
          onValue={choose(dark)}
        />
      </div>
    </>
  )
}

/** Phones paste into a field only. */
function PasteButton({ onText }: { onText: (text: string) => void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  const text = useSignal('')
  return (
    <>
      <button type="button" onClick={() => dialog.current?.showModal()}>
        Paste
      </button>
      <dialog ref={dialog} aria-label="Paste spectra as text">
        <form
          method="dialog"
          class="stack"
          onSubmit={() => {
            if (text.value.trim() !== '') onText(text.value)
            text.value = ''
          }}
        >
          <label class="field">
            <span>Wavelength and signal, one pair a line</span>
            <textarea
              rows={8}
              value={text.value}
              onInput={(event) => {
                text.value = event.currentTarget.value
              }}
            />
          </label>
          <button type="submit" class="primary">
            {text.value.trim() === '' ? 'Close' : 'Read it'}
          </button>
        </form>
      </dialog>
    </>
  )
}

/** Files and texts that are dropped on the page or pasted outside a field. */
function useDroppedTexts(open: (files: readonly File[]) => void): void {
  useEffect(() => {
    const take = (data: DataTransfer | null): boolean => {
      const files = [...(data?.files ?? [])]
      const text = data?.getData('text/plain') ?? ''
      if (files.length > 0) open(files)
      else if (text.includes('\n')) open([new File([text], 'Pasted text')])
      else return false
      return true
    }
    const onPaste = (event: ClipboardEvent) => {
      if ((event.target as Element).closest?.('input, textarea')) return
      if (take(event.clipboardData)) event.preventDefault()
    }
    const onDrop = (event: DragEvent) => {
      take(event.dataTransfer)
    }
    addEventListener('paste', onPaste)
    addEventListener('drop', onDrop)
    return () => {
      removeEventListener('paste', onPaste)
      removeEventListener('drop', onDrop)
    }
  })
}
