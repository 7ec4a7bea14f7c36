import type { CardLightId } from '../light/card-light.ts'
import { NumberField } from './number-field.tsx'
import { SelectField } from './select-field.tsx'

const KINDS = [
  ['D65', 'Daylight, overcast or open shade'],
  ['D55', 'Daylight, sun and sky'],
  ['D50', 'Direct sun'],
  ['filament', 'Filament or halogen lamp'],
  ['led', 'LED shop light'],
  ['fluorescent', 'Fluorescent tube'],
  ['measured', 'Measured x, y'],
] as const

type Kind = (typeof KINDS)[number][0]

const kindOf = (light: CardLightId): Kind =>
  light.kind === 'daylight' ? light.illuminant : light.kind

/** First values for each kind: what such a light commonly is. */
function startingLight(kind: Kind): CardLightId {
  switch (kind) {
    case 'filament':
      return { kind, colourTemperatureK: 2700, standardUncertaintyK: 50 }
    case 'led':
    case 'fluorescent':
      return { kind, colourTemperatureK: null }
    case 'measured':
      return { kind, x: 0.3127, y: 0.329, standardUncertainty: 0.003 }
    default:
      return { kind: 'daylight', illuminant: kind }
  }
}

/** The light that lay on the grey card: the gains map the card to this light, not to white. */
export function CardLightPicker({
  light,
  onLight,
}: {
  light: CardLightId
  onLight: (light: CardLightId) => void
}) {
  return (
    <div class="stack">
      <SelectField
        label="Light on the card"
        of={KINDS}
        value={kindOf(light)}
        onValue={(kind) => onLight(startingLight(kind))}
      />
      {light.kind === 'filament' && (
        <div class="row">
          <NumberField
            label="Colour temperature, K"
            value={light.colourTemperatureK}
            min={1500}
            max={3500}
            onValue={(colourTemperatureK) =>
              colourTemperatureK !== null && onLight({ ...light, colourTemperatureK })
            }
          />
          <NumberField
            label="± (1 standard uncertainty), K"
            value={light.standardUncertaintyK}
            min={1}
            max={500}
            onValue={(standardUncertaintyK) =>
              standardUncertaintyK !== null && onLight({ ...light, standardUncertaintyK })
            }
          />
        </div>
      )}
      {(light.kind === 'led' || light.kind === 'fluorescent') && (
        <>
          <NumberField
            label="Colour temperature on the pack, K (leave empty if unknown)"
            value={light.colourTemperatureK}
            min={2000}
            max={10000}
            onValue={(colourTemperatureK) => onLight({ ...light, colourTemperatureK })}
          />
          <p class="small soft">
            Its gaps make cameras disagree: this alone can cost 70 degrees. Daylight or a filament
            lamp is far better.
          </p>
        </>
      )}
      {light.kind === 'measured' && (
        <div class="row">
          <NumberField
            label="x"
            value={light.x}
            min={0.2}
            max={0.65}
            onValue={(x) => x !== null && onLight({ ...light, x })}
          />
          <NumberField
            label="y"
            value={light.y}
            min={0.2}
            max={0.5}
            onValue={(y) => y !== null && onLight({ ...light, y })}
          />
          <NumberField
            label="± of each"
            value={light.standardUncertainty}
            min={0.0001}
            max={0.05}
            onValue={(standardUncertainty) =>
              standardUncertainty !== null && onLight({ ...light, standardUncertainty })
            }
          />
        </div>
      )}
    </div>
  )
}
