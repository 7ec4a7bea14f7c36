import { useEffect, useMemo } from 'preact/hooks'
import type { LevelComparison } from '../../estimate/level-comparison.ts'
import type { BudgetEntry } from '../../log/schema/types.ts'
import { OPEN } from '../../session/carried-reading.ts'
import { createBrightnessModel } from '../../session/check/brightness-model.ts'
import type { LevelReading } from '../../session/check/level-reading.ts'
import { referenceTerms } from '../../session/check/reference-terms.ts'
import { useServices } from '../../session/services.ts'
import { Notices } from '../../ui/notices.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { showMoveSpan } from '../../ui/temperature-span.ts'
import { BRIGHTNESS_TERMS } from '../../ui/words/check.ts'
import { showMoment } from '../../ui/words/dates.ts'
import type { Notice } from '../../ui/words/estimate.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { ContributionBars } from './contribution-bars.tsx'
import { SaveEstimate, SaveOpenFirst } from './save-estimate.tsx'
import { askedId } from './use-asked.ts'
import { AgainstReading } from './verdict-part.tsx'

const nameOf = ({ reading, temperature }: LevelReading) => {
  const heat = showTemperature(temperature.value)
  return `${reading.object || 'no name'}, ${heat}, ${showMoment(reading.takenAt.iso)}`
}

/** The level of red alone, against a reading of known temperature by the same camera. */
export function BrightnessPanel() {
  const { log } = useServices()
  const readingId = askedId()
  const model = useMemo(() => createBrightnessModel(log, readingId), [log, readingId])
  useEffect(() => () => model.dispose(), [model])
  const readings = model.readings.value
  const answer = model.answer.value
  if (model.failure.value) return <p role="alert">{logSentence(model.failure.value)}</p>
  if (readings === null) return <p class="soft">Looking into the log …</p>
  if (readings.length < 2) {
    return (
      <p class="card">
        Two saved camera readings are needed whose photos state exposure time, ISO and aperture: one
        of known temperature, and this one. Same camera, same lens, same distance.
      </p>
    )
  }
  const notices: Notice[] = []
  if (answer?.thin) {
    notices.push({
      weight: 'warn',
      title: 'The glow is thinner than the blur allows',
      todo: 'Its middle has lost light. Go closer, or use the colour instead.',
    })
  }
  if (answer?.curveUnknown) {
    notices.push({
      weight: 'note',
      title: 'Ordinary photos: levels are bent by the tone curve',
      todo: 'Counted in the ±. Raw photos, or the same level in both, avoid it.',
    })
  }
  return (
    <section class="stack">
      <Picker label="Known temperature" id={model.referenceId} readings={readings} />
      <Picker label="This reading" id={model.glowId} readings={readings} />
      {answer === null ? (
        <p class="soft">
          Choose two different readings of known surfaces, by one camera with one white balance.
        </p>
      ) : (
        <section class="stack" aria-live="polite">
          <AgainstReading
            asked={readingOf(readings, model.glowId.value)}
            kind="brightness"
            temperatureK={answer.found.temperatureK}
            terms={termsOf(answer, readings, model.referenceId.value)}
          />
          <h2>By its brightness</h2>
          <TemperatureFigure
            temperatureK={answer.found.temperatureK}
            expandedUncertaintyK={2 * answer.found.standardUncertaintyK}
          />
          <dl class="facts">
            <dt>Brightness temperature</dt>
            <dd>{showTemperature(answer.found.brightnessTemperatureK)}</dd>
            <dt>If it is the same piece, hotter by</dt>
            <dd>{showMoveSpan(answer.hotter.value, 2 * answer.hotter.standardUncertainty)}</dd>
          </dl>
          <Notices notices={notices} />
          <p class="small soft">
            One per cent of light is less than one kelvin at 900 °C. Brightness is blind to tint,
            but it needs the emissivity of both surfaces and a region that the glow fills.
          </p>
          <ContributionBars
            contributions={answer.found.contributions.map(({ code, standardUncertainty }) => ({
              name: BRIGHTNESS_TERMS[code],
              standardUncertaintyK: standardUncertainty,
            }))}
          />
          {[model.glowId.value, model.referenceId.value].includes(OPEN) ? (
            <SaveOpenFirst />
          ) : (
            <SaveEstimate
              key={model.glowId.value}
              method="brightness"
              temperatureK={answer.found.temperatureK}
              standardUncertaintyK={answer.found.standardUncertaintyK}
              terms={termsOf(answer, readings, model.referenceId.value)}
              {...labelsOf(readings, model.glowId.value)}
              inputs={{ referenceId: model.referenceId.value, readingId: model.glowId.value }}
            />
          )}
        </section>
      )}
    </section>
  )
}

/** Budget of the saved estimate; the reference's temperature goes in by the terms it rests on. */
function termsOf(
  { found }: LevelComparison,
  readings: readonly LevelReading[],
  referenceId: string,
): BudgetEntry[] {
  const reference = readingOf(readings, referenceId)
  return found.contributions.flatMap(({ code, standardUncertainty }): BudgetEntry[] =>
    code === 'reference temperature' && reference
      ? referenceTerms(reference, standardUncertainty)
      : [{ term: BRIGHTNESS_TERMS[code], contributionK: standardUncertainty, sharedBy: null }],
  )
}

const readingOf = (readings: readonly LevelReading[], id: string) =>
  readings.find(({ reading }) => reading.id === id)?.reading ?? null

function labelsOf(readings: readonly LevelReading[], id: string) {
  const reading = readingOf(readings, id)
  return {
    object: reading?.object ?? '',
    material: reading?.material ?? '',
    simulated: reading?.simulated ?? false,
  }
}

function Picker({
  label,
  id,
  readings,
}: {
  label: string
  id: { value: string }
  readings: readonly LevelReading[]
}) {
  return (
    <SelectField
      label={label}
      of={readings.map((one) => [one.reading.id, nameOf(one)])}
      value={id.value}
      onValue={(chosen) => {
        id.value = chosen
      }}
    />
  )
}
