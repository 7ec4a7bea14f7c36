import type { Signal } from '@preact/signals'
import { type Instrument, USUAL_INSTRUMENT } from '../../estimate/spectrum/types.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'

/** What the maker's sheet says; common values stand where it says nothing. */
export function InstrumentFields({ instrument }: { instrument: Signal<Instrument> }) {
  const now = instrument.value
  const change = (part: Partial<Instrument>) => {
    instrument.value = { ...instrument.peek(), ...part }
  }
  /** A share is typed in percent. */
  const percent = (share: number) => Number((100 * share).toPrecision(6))
  return (
    <details>
      <summary>What its sheet says</summary>
      <div class="inside">
        <div class="row">
          <NumberField
            label="Stray light, %"
            value={percent(now.strayShare)}
            min={0}
            max={10}
            onValue={(value) => value !== null && change({ strayShare: value / 100 })}
          />
          <NumberField
            label="Linearity, ± %"
            value={percent(now.nonlinearity)}
            min={0}
            max={20}
            onValue={(value) => value !== null && change({ nonlinearity: value / 100 })}
          />
        </div>
        <div class="row">
          <NumberField
            label="Wavelength scale, ± nm"
            value={now.wavelengthUncertaintyNm}
            min={0}
            max={20}
            onValue={(value) => value !== null && change({ wavelengthUncertaintyNm: value })}
          />
          <NumberField
            label="Full scale, counts"
            value={now.saturationLevel}
            min={1}
            max={1e12}
            onValue={(saturationLevel) => change({ saturationLevel })}
          />
        </div>
        <SelectField
          label="Filter against second order"
          of={[
            ['unknown', 'No, or I do not know'],
            ['yes', 'Built in'],
          ]}
          value={now.secondOrderShare === 0 ? 'yes' : 'unknown'}
          onValue={(built) =>
            change({ secondOrderShare: built === 'yes' ? 0 : USUAL_INSTRUMENT.secondOrderShare })
          }
        />
        <p class="small soft">Shares of the largest signal, 1 standard uncertainty.</p>
      </div>
    </details>
  )
}
