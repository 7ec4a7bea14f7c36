import type { ChartModel } from '../../session/chart/chart-model.ts'
import { type RoomId, roomLux } from '../../session/chart/room-light.ts'
import { MaterialPicker } from '../../ui/material-picker.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { UnitPicker } from '../../ui/unit-picker.tsx'
import { ROOM_NAMES } from '../../ui/words/chart.ts'

/** What the colours are computed for, and in which steps they are shown. */
export function ChartSettings({ model }: { model: ChartModel }) {
  return (
    <details class="no-print">
      <summary>Surface, room light, steps</summary>
      <div class="inside">
        <MaterialPicker
          unstated
          materialId={model.materialId.value}
          onMaterial={(id) => {
            model.materialId.value = id
          }}
        />
        <label class="field">
          <span>Room light on the piece</span>
          <select
            value={model.room.value}
            onChange={(event) => {
              model.room.value = event.currentTarget.value as RoomId
            }}
          >
            {Object.entries(ROOM_NAMES).map(([id, name]) => (
              <option key={id} value={id}>
                {id === 'dark' ? name : `${name} (${roomLux[id as RoomId]} lx)`}
              </option>
            ))}
          </select>
        </label>
        <VisibleFrom model={model} />
        <label class="field">
          <span>Steps</span>
          <select
            value={model.step.value}
            onChange={(event) => {
              model.step.value = Number(event.currentTarget.value)
            }}
          >
            <option value={0}>Continuous</option>
            <option value={25}>25 degrees</option>
            <option value={50}>50 degrees</option>
            <option value={100}>100 degrees</option>
          </select>
        </label>
        <UnitPicker />
      </div>
    </details>
  )
}

function VisibleFrom({ model }: { model: ChartModel }) {
  return (
    <p class="small soft">
      Room light hides the low reds. With this light the glow is seen from about{' '}
      {showTemperature(model.visibleFromK.value)} (Draper’s first glow, plus 2 % contrast against
      the lit surface).
    </p>
  )
}
