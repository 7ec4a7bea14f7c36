import { materialById } from '../../physics/materials.ts'
import { MEASURED_WINDOW, WINDOWS } from '../../physics/windows.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { Notices } from '../../ui/notices.tsx'
import { NumberField } from '../../ui/number-field.tsx'
import bench from '../../ui/photo/bench.module.css'
import { SelectField } from '../../ui/select-field.tsx'
import { SPECTRUM_EMPTY } from '../../ui/words/spectrum.ts'
import { SURFACE_WORDS } from '../../ui/words/surface.ts'
import { WINDOW_TABLE_WORDS } from '../../ui/words/window-table.ts'
import { ImportPanel } from './import-panel.tsx'
import { rawPlot } from './plot-data.ts'
import { PlotPanel } from './plot-panel.tsx'
import { SpectrumResult } from './result-panel.tsx'
import style from './spectrum-screen.module.css'
import { WindowTable } from './window-table.tsx'

/** Step 2: the glow, what it is, and what its spectrum says. */
export function GlowStep({ model }: { model: SpectrumModel }) {
  const recording = model.recording.value
  const using = model.inUse.value
  return (
    <div class={bench.bench}>
      <div class={`${bench.right} ${style.right}`}>
        {!using && model.lamp.emitter.value !== 'calibration' && (
          <Notices
            notices={[
              { weight: 'note', title: 'No instrument yet', todo: SPECTRUM_EMPTY.noResponse },
            ]}
          />
        )}
        {using && !recording && <p class="soft">{SPECTRUM_EMPTY.noGlow}</p>}
        <SpectrumResult model={model} />
        {recording && !model.measured.value && (
          <PlotPanel of={recording} note="" makers={{ raw: () => rawPlot(recording, null) }} />
        )}
      </div>
      <div class={bench.left}>
        <ImportPanel model={model} step="glow" label="Open the glow’s spectrum" />
        <Surface model={model} />
      </div>
    </div>
  )
}

/** What glows, what stands in front, and the two wavelengths of the ratio. */
function Surface({ model }: { model: SpectrumModel }) {
  const material = materialById(model.materialId.value)
  const [shortNm, longNm] = model.ratioNm.value
  return (
    <>
      <MaterialPicker
        unstated
        materialId={model.materialId.value}
        onMaterial={(id) => {
          model.materialId.value = id
        }}
      />
      {material && (
        <p class="small soft">
          {material.effects.map((effect) => SURFACE_WORDS[effect]).join(' ')}
        </p>
      )}
      <SelectField
        label="In front of the glow"
        of={[
          ['none', 'Nothing'],
          // A spectrometer sees what such a glass takes away: it needs the table.
          ...WINDOWS.filter(({ infrared }) => infrared === undefined).map(
            ({ id, name }) => [id, name] as const,
          ),
          [MEASURED_WINDOW, WINDOW_TABLE_WORDS.name],
        ]}
        value={model.window.cover.value}
        onValue={(cover) => {
          model.window.cover.value = cover
        }}
      />
      {model.window.cover.value === MEASURED_WINDOW && <WindowTable model={model} />}
      <details>
        <summary>Wavelengths of the ratio</summary>
        <div class="inside">
          <div class="row">
            <NumberField
              label="Short, nm"
              value={shortNm}
              min={200}
              max={2500}
              onValue={(value) => {
                if (value !== null) model.ratioNm.value = [value, longNm]
              }}
            />
            <NumberField
              label="Long, nm"
              value={longNm}
              min={200}
              max={2500}
              onValue={(value) => {
                if (value !== null) model.ratioNm.value = [shortNm, value]
              }}
            />
          </div>
        </div>
      </details>
    </>
  )
}
