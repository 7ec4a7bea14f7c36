import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { REFERENCE_RANGE_K } from '../../estimate/spectrum/lamp.ts'
import type { Summary } from '../../log/schema/types.ts'
import { KNOWN_HEATS } from '../../physics/fixed-points.data.ts'
import { fixedPointTemperature } from '../../physics/fixed-points.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { useServices } from '../../session/services.ts'
import { isByCamera } from '../../session/spectrum/camera-readings.ts'
import type { LampChoice } from '../../session/spectrum/lamp-choice.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showFigure, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { REFERENCE_WORDS } from '../../ui/words/spectrum.ts'

/** The newest readings that are looked through for those by a camera, and those offered. */
const LOOKED_AT = 40
const OFFERED = 10

/** Bodies that a camera has read of late: the log's, measured ones only. */
function useCameraReadings(): readonly Summary[] {
  const { log } = useServices()
  const found = useSignal<readonly Summary[]>([])
  useEffect(() => {
    let wanted = true
    log
      .then((opened) => opened.newest(LOOKED_AT))
      .then((newest) => {
        if (wanted) found.value = newest.filter(isByCamera).slice(0, OFFERED)
      })
      // Without the log there is nothing to offer; it says so itself.
      .catch(() => undefined)
    return () => {
      wanted = false
    }
  }, [log, found])
  return found.value
}

const readingWords = ({ temperatureK, expandedUncertaintyK, object, takenAt }: Summary) =>
  `${REFERENCE_WORDS.read}${showFigure(temperatureK ?? 0, expandedUncertaintyK ?? 0)}, ${object || showMoment(takenAt)}`

const BY_VALUE = 'value'

/** Its temperature: by a fixed point, as a camera read it for the log, or as somebody measured it. */
export function HeatFields({ choice }: { choice: LampChoice }) {
  const { temperatureK, standardUncertaintyK } = choice.black.value
  const by = useSignal<string>(BY_VALUE)
  const unit = temperatureUnit.value
  const [least, most] = REFERENCE_RANGE_K
  const readings = useCameraReadings()
  const say = (part: Partial<typeof choice.black.value>) => {
    choice.black.value = { ...choice.black.peek(), ...part }
  }
  return (
    <>
      <SelectField
        label={REFERENCE_WORDS.by}
        of={[
          [BY_VALUE, REFERENCE_WORDS.measured],
          ...KNOWN_HEATS.filter(({ points }) => points.by !== 'value').map(
            ({ id, name }) => [id as string, name] as const,
          ),
          ...readings.map((one) => [one.id, readingWords(one)] as const),
        ]}
        value={by.value}
        onValue={(id) => {
          by.value = id
          const read = readings.find((one) => one.id === id)
          if (read?.temperatureK && read.standardUncertaintyK) {
            say({
              temperatureK: read.temperatureK,
              standardUncertaintyK: Number(read.standardUncertaintyK.toPrecision(2)),
            })
            return
          }
          const heat = KNOWN_HEATS.find((one) => one.id === id)
          const found = heat && fixedPointTemperature({ id: heat.id })
          if (!found?.ok) return
          say({
            temperatureK: found.temperatureK,
            standardUncertaintyK: Number(found.standardUncertaintyK.toPrecision(2)),
          })
        }}
      />
      <div class="row">
        <NumberField
          label={`Temperature, ${UNIT_SYMBOLS[unit]}`}
          value={Number(temperatureInUnit(temperatureK, unit).toFixed(1))}
          min={Math.ceil(temperatureInUnit(least, unit))}
          max={Math.floor(temperatureInUnit(most, unit))}
          onValue={(value) => {
            if (value === null) return
            by.value = BY_VALUE
            say({ temperatureK: temperatureFromUnit(value, unit) })
          }}
        />
        <NumberField
          label="± 1 standard uncertainty, K"
          value={standardUncertaintyK}
          min={0}
          max={500}
          onValue={(value) => value !== null && say({ standardUncertaintyK: value })}
        />
      </div>
    </>
  )
}
