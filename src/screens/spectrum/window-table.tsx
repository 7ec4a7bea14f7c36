import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { SPECTRUM_TEXT_TYPES } from '../../sources/spectrum/text-types.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { Notices } from '../../ui/notices.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { textRefusalNotice } from '../../ui/words/spectrum-import.ts'
import { WINDOW_TABLE_WORDS, windowUnitWords } from '../../ui/words/window-table.ts'
import { FilePreview } from './file-preview.tsx'
import { SpectrumPicker } from './spectrum-picker.tsx'

/** A pane that somebody measured: its table, how that is written, and how good it is. */
export function WindowTable({ model }: { model: SpectrumModel }) {
  const { imported, window } = model
  const files = imported.files.value.filter(({ step }) => step === 'window')
  const columns = imported.spectra.value.filter(({ step }) => step === 'window')
  const refused = imported.refused.value
  const found = window.foundUnit.value
  const open = (given: readonly File[]) => {
    // One table at a time: the new one takes the place of the one before.
    for (const { id } of files) imported.remove(id)
    window.unit.value = null
    void imported.addFiles(given, 'window')
  }
  return (
    <section class="stack" aria-label={WINDOW_TABLE_WORDS.section}>
      <FileButton
        primary={files.length === 0}
        accept={SPECTRUM_TEXT_TYPES.join(',')}
        onFiles={open}
      >
        {files.length === 0 ? WINDOW_TABLE_WORDS.open : WINDOW_TABLE_WORDS.another}
      </FileButton>
      {files.length === 0 && <p class="small soft">{WINDOW_TABLE_WORDS.hint}</p>}
      {refused?.step === 'window' && (
        <Notices notices={[textRefusalNotice(refused.refusal, refused.name)]} />
      )}
      {files.map((file) => (
        <FilePreview
          key={file.id}
          file={file}
          onChoices={(choices) => void imported.choose(file.id, choices)}
          onRemove={() => imported.remove(file.id)}
        />
      ))}
      {columns.length > 1 && (
        <SpectrumPicker
          label={WINDOW_TABLE_WORDS.column}
          none="Choose …"
          spectra={columns}
          value={imported.roles.value.window}
          onValue={(key) => {
            imported.roles.value = { ...imported.roles.value, window: key }
          }}
        />
      )}
      {found && (
        <div class="row">
          <SelectField
            label={WINDOW_TABLE_WORDS.unit}
            of={(['share', 'percent'] as const).map((unit) => [unit, windowUnitWords[unit]])}
            value={window.unit.value ?? found}
            onValue={(unit) => {
              window.unit.value = unit
            }}
          />
          <NumberField
            label={WINDOW_TABLE_WORDS.uncertainty}
            value={window.uncertainty.value}
            min={0}
            max={30}
            onValue={(value) => {
              window.uncertainty.value = value
            }}
          />
        </div>
      )}
      {found && <p class="small soft">{WINDOW_TABLE_WORDS.uncertaintyHint}</p>}
    </section>
  )
}
