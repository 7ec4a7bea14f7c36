import type { ChartModel } from '../../session/chart/chart-model.ts'
import { balanceWords } from '../../ui/words/balance.ts'
import { lookSentence } from '../../ui/words/look.ts'

/** Which camera the view speaks of, and the known heats that it rests on. */
export function LookSource({ model }: { model: ChartModel }) {
  const { cameras, camera, look, working, live } = model.looks
  const found = look.value
  return (
    <div class="stack look-source">
      {cameras.value.length > 1 && !live.value && (
        <label class="field no-print">
          <span>Camera of the kit</span>
          <select
            value={camera.value?.key ?? ''}
            onChange={(event) => {
              model.looks.choice.value = event.currentTarget.value
            }}
          >
            {cameras.value.map(({ key, cameraId, balanceState }) => (
              <option key={key} value={key}>
                {cameraId}, {balanceWords(balanceState)}
              </option>
            ))}
          </select>
        </label>
      )}
      <p class="small soft" role="status">
        {working.value || !found ? 'Working out the camera …' : lookSentence(found)}
      </p>
    </div>
  )
}
