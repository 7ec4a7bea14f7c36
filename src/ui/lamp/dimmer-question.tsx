import type { MeterKind } from '../../physics/phase-cut.ts'
import type { LampData } from '../../session/kit/kit-data.ts'
import type { LampModel } from '../../session/kit/lamp-model.ts'
import { NumberField } from '../number-field.tsx'
import { SelectField } from '../select-field.tsx'
import { METER_KINDS, PHASE_CUT_WORDS } from '../words/lamps.ts'

const KINDS = Object.keys(METER_KINDS) as MeterKind[]

/** Whether a dimmer cuts the wave, and which voltmeter looks at it. Watts do not mind. */
export function DimmerQuestion({ model }: { model: LampModel }) {
  const { lamp, method } = model.form.value
  if (method === 'rated') return null
  if (method === 'watts') return <DimmerRating model={model} />
  const change = (part: Partial<LampData>) => model.change({ lamp: { ...lamp, ...part } })
  const { supply } = lamp
  return (
    <>
      <SelectField
        label="Fed by"
        of={[
          ['whole', 'Mains, transformer or battery'],
          ['cut', 'Mains dimmer (turns or slides)'],
        ]}
        value={supply.kind}
        onValue={(kind) =>
          change({
            supply:
              kind === 'cut'
                ? { kind, meter: 'unknown', supplyVolts: lamp.ratedVolts ?? 230 }
                : { kind },
          })
        }
      />
      {supply.kind === 'cut' && (
        <>
          <div class="row">
            <SelectField
              label="Voltmeter"
              of={KINDS.map((kind) => [kind, METER_KINDS[kind]])}
              value={supply.meter}
              onValue={(meter) => change({ supply: { ...supply, meter } })}
            />
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
          <DimmerRating model={model} />
        </>
      )}
    </>
  )
}

/** Whether the dimmer carries the lamp; it may stay open. */
function DimmerRating({ model }: { model: LampModel }) {
  const { lamp, method, dimmerWatts } = model.form.value
  return (
    <div class="row">
      <NumberField
        label="Dimmer rated for, W (may stay empty)"
        value={dimmerWatts}
        min={1}
        max={5000}
        onValue={(next) => model.change({ dimmerWatts: next })}
      />
      {method !== 'watts' && dimmerWatts !== null && (
        <NumberField
          label="Lamp rated for, W"
          value={lamp.ratedWatts}
          min={0.1}
          max={5000}
          onValue={(ratedWatts) => model.change({ lamp: { ...lamp, ratedWatts } })}
        />
      )}
    </div>
  )
}
