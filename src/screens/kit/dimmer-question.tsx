import type { MeterKind } from '../../physics/phase-cut.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { METER_KINDS, PHASE_CUT_WORDS } from '../../ui/words/lamps.ts'
import type { LampData } from './kit-data.ts'
import type { LampModel } from './lamp-model.ts'

const KINDS = Object.keys(METER_KINDS) as MeterKind[]

/** Whether a dimmer cuts the wave, and which voltmeter looks at it. Watts do not mind. */
export function DimmerQuestion({ model }: { model: LampModel }) {
  const { lamp, method } = model.form.value
  if (method === 'rated' || method === 'watts') return null
  const change = (part: Partial<LampData>) => model.change({ lamp: { ...lamp, ...part } })
  const { supply } = lamp
  return (
    <>
      <label class="field">
        <span>Fed by</span>
        <select
          value={supply.kind}
          onChange={(event) =>
            change({
              supply:
                event.currentTarget.value === 'cut'
                  ? { kind: 'cut', meter: 'unknown', supplyVolts: lamp.ratedVolts ?? 230 }
                  : { kind: 'whole' },
            })
          }
        >
          <option value="whole">Mains, transformer or battery</option>
          <option value="cut">Mains dimmer (turns or slides)</option>
        </select>
      </label>
      {supply.kind === 'cut' && (
        <>
          <div class="row">
            <label class="field grow">
              <span>Voltmeter</span>
              <select
                value={supply.meter}
                onChange={(event) =>
                  change({ supply: { ...supply, meter: event.currentTarget.value as MeterKind } })
                }
              >
                {KINDS.map((kind) => (
                  <option key={kind} value={kind}>
                    {METER_KINDS[kind]}
                  </option>
                ))}
              </select>
            </label>
            <NumberField
              label="Mains, V"
              value={supply.supplyVolts}
              min={50}
              max={500}
              onValue={(supplyVolts) => {
                if (supplyVolts !== null) change({ supply: { ...supply, supplyVolts } })
              }}
            />
          </div>
          <p class="small soft">{PHASE_CUT_WORDS}</p>
        </>
      )}
    </>
  )
}
