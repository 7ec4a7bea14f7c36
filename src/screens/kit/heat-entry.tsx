import type { ComponentChildren } from 'preact'
import { fixedPointTemperature } from '../../physics/fixed-points.ts'
import { materialById } from '../../physics/materials.ts'
import { tungstenTrueUncertainty } from '../../physics/tungsten.ts'
import type { StoredHeat } from '../../session/kit/stored-items.ts'
import { heatById, isFixedPointId } from '../../session/kit/subject.ts'
import type { HeatSurvey } from '../../session/kit/survey.ts'
import { useServices } from '../../session/services.ts'
import { switchHeat } from '../../ui/kit-actions.ts'
import { Entry, EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { balanceWords } from '../../ui/words/balance.ts'
import { showDay, showMoment } from '../../ui/words/dates.ts'
import { ATMOSPHERE_WORDS, LINEARITY_WORDS, lightWords, residualWords } from '../../ui/words/kit.ts'
import { STEEL_CLASS_WORDS } from '../../ui/words/known-heats.ts'
import { colourTemperatureWords, LAMP_METHODS, LAMP_TARGET_WORDS } from '../../ui/words/lamps.ts'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { ownEntry } from '../../ui/words/own-entry.ts'

type Row = readonly [string, ComponentChildren]

/** A known heat of the kit, with what the others say about it. */
export function HeatEntry({ heat, survey }: { heat: StoredHeat; survey: HeatSurvey | undefined }) {
  const { log } = useServices()
  const { item, reference, off } = heat
  const conflicts = survey?.use.status === 'conflicting'
  const tags = [...(off ? ['Off'] : []), ...(item.simulated ? [PRACTICE_LABEL] : [])]
  const residual = survey?.use.standardisedResidual ?? null
  return (
    <Entry
      title={item.name}
      figure={<HeatFigure heat={heat} />}
      line={`${showDay(item.date.iso)} · ${reference.cameraId}`}
      tags={tags}
      warning={conflicts ? 'Disagrees' : survey?.old ? 'Over a year old' : null}
    >
      <Facts
        rows={[
          ...originRows(heat),
          ['Taken', showMoment(item.date.iso)],
          ['Camera', reference.cameraId],
          ['White balance', balanceWords(reference.balanceState)],
          ['Light path', LINEARITY_WORDS[reference.linearity.kind]],
          ['Grey card', reference.balance ? lightWords(reference.balance.light) : 'none'],
          ...(residual === null ? [] : [['Against the rest', residualWords(residual)] as Row]),
        ]}
      />
      {conflicts && (
        <p class="small soft">
          It counts with a wider ± until this is cleared up. Take it again, or switch off the one
          that is wrong.
        </p>
      )}
      <EntryActions id={item.id} name={item.name}>
        <button
          type="button"
          class="grow"
          aria-pressed={off}
          onClick={() => void switchHeat(log, item, !off)}
        >
          {off ? 'Switch on' : 'Switch off'}
        </button>
      </EntryActions>
    </Entry>
  )
}

/** A lamp's colour temperature is a matter of kelvin, whatever the unit of heat. */
function HeatFigure({ heat: { reference, origin } }: { heat: StoredHeat }) {
  const { temperatureK, standardUncertaintyK } = reference
  if (origin?.kind === 'lamp') {
    return <>{colourTemperatureWords(temperatureK, standardUncertaintyK)}</>
  }
  return (
    <TemperatureFigure
      size="line"
      temperatureK={temperatureK}
      expandedUncertaintyK={2 * standardUncertaintyK}
    />
  )
}

function originRows({ origin, reference }: StoredHeat): Row[] {
  if (!origin) return []
  if (origin.kind === 'lamp') {
    return [
      ['Lamp', origin.lampName],
      ['Known by', LAMP_METHODS[origin.method].line],
      ['Photographed', ownEntry(LAMP_TARGET_WORDS, origin.target) ?? origin.target],
      [
        'Filament itself',
        <TemperatureFigure
          key="filament"
          size="line"
          temperatureK={origin.trueTemperatureK}
          expandedUncertaintyK={
            2 * tungstenTrueUncertainty(reference.temperatureK, reference.standardUncertaintyK)
          }
        />,
      ],
    ]
  }
  const surface: Row = ['Surface', materialById(reference.surface.id)?.name ?? reference.surface.id]
  if (!isFixedPointId(origin.id)) return [surface]
  const { atmosphere, steelClass, valueK, limitsOfErrorK } = origin
  const known = fixedPointTemperature({
    id: origin.id,
    ...(atmosphere ? { atmosphere } : {}),
    ...(steelClass ? { steelClass } : {}),
    ...(valueK === null ? {} : { valueK }),
    ...(limitsOfErrorK === null ? {} : { limitsOfErrorK }),
  })
  return [
    ['Known heat', heatById(origin.id)?.name ?? origin.id],
    ...(atmosphere ? [['Melted', ATMOSPHERE_WORDS[atmosphere]] as Row] : []),
    ...(steelClass ? [['Steel', STEEL_CLASS_WORDS[steelClass]] as Row] : []),
    ...(known.ok ? [['Source', known.source] as Row] : []),
    surface,
  ]
}
