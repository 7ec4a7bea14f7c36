import type { LampData } from '../../session/kit/kit-data.ts'
import { NumberField } from '../number-field.tsx'
import { METER_NAMES } from '../words/lamps.ts'

type Meter = keyof LampData['meters']

/** What the meters' data sheets say; common values until the person states better. */
export function MeterAccuracy({
  meters,
  shown,
  onMeters,
}: {
  meters: LampData['meters']
  shown: readonly Meter[]
  onMeters: (meters: LampData['meters']) => void
}) {
  return (
    <details>
      <summary>Accuracy of the meters</summary>
      <div class="inside">
        {shown.map((meter) => {
          const accuracy = meters[meter]
          const change = (part: Partial<typeof accuracy>) =>
            onMeters({ ...meters, [meter]: { ...accuracy, ...part } })
          return (
            <div key={meter} class="row">
              <NumberField
                label={`${METER_NAMES[meter]}, ± % of reading`}
                value={accuracy.percentOfReading}
                min={0}
                max={50}
                onValue={(value) => {
                  if (value !== null) change({ percentOfReading: value })
                }}
              />
              <NumberField
                label="+ digits"
                value={accuracy.digits}
                min={0}
                max={200}
                onValue={(value) => {
                  if (value !== null) change({ digits: value })
                }}
              />
            </div>
          )
        })}
        <p class="small soft">
          From the data sheet. Set to what is common for pocket meters. Type readings with all the
          digits that are displayed.
        </p>
      </div>
    </details>
  )
}
