import { useComputed } from '@preact/signals'
import { MEASURED_WINDOW } from '../../physics/windows.ts'
import { firstValue } from '../../session/first-value.ts'
import { useServices } from '../../session/services.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { spectrumRecord } from '../../session/spectrum/spectrum-record.ts'
import { MaterialPicker, UNSTATED } from '../../ui/material-picker.tsx'
import { useSurfaceOfObject } from '../../ui/object-surface.ts'
import { SaveDock } from '../../ui/save-dock.tsx'

/** Saves the temperature with the spectra and the response it came from. */
export function SaveSpectrum({ model }: { model: SpectrumModel }) {
  const { now } = useServices()
  const { materialId } = model
  const measured = model.measured.value
  const answered = useComputed(() => (model.busy.value ? null : model.measured.value))
  useSurfaceOfObject(
    model.object,
    () => materialId.peek() === UNSTATED,
    (found) => {
      materialId.value = found.materialId
    },
  )
  return (
    <SaveDock
      object={model.object}
      notes={model.remarks}
      ready={measured?.result.ok === true && model.inUse.value !== null && !model.busy.value}
      what={measured?.result}
      mustSay={materialId.value === UNSTATED}
      ask={
        <MaterialPicker
          unstated
          materialId={materialId.value}
          onMaterial={(id) => {
            materialId.value = id
          }}
        />
      }
      save={async (log) => {
        const using = model.inUse.value
        // Of what was said last: the answer may still be on its way.
        const measured = await firstValue(answered)
        if (!measured.result.ok || !using) throw new Error('saving waits for a temperature')
        const record = spectrumRecord({
          input: measured.input,
          result: measured.result,
          responseId: using.id,
          materialId: model.materialId.value,
          cover: model.window.cover.value,
          fileName: model.imported.fileOf(model.imported.roles.value.glow)?.name ?? '',
          tableName:
            model.window.cover.value === MEASURED_WINDOW
              ? (model.imported.fileOf(model.imported.roles.value.window)?.name ?? '')
              : null,
          simulated: model.simulated.value,
          truthK: model.truthK.value,
          object: model.object.value,
          notes: model.remarks.value,
          now: now(),
        })
        return (await log.add(record)).id
      }}
    />
  )
}
