import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import { levelMatch } from '../../estimate/matched-level.ts'
import { neededStops } from '../../light/exposure-sweep/needed-stops.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { compareWithLimits } from '../../physics/limits.ts'
import { materialById } from '../../physics/materials.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { FoldedNotice, Notices } from '../../ui/notices.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { COVER_MIRRORS } from '../../ui/words/cover.ts'
import { noticeFromFinding, type Weight } from '../../ui/words/estimate.ts'
import { noticeFromMeasurement } from '../../ui/words/glow-findings.ts'
import { CARD_NOT_COUNTED } from '../../ui/words/grey-findings.ts'
import { limitNotice } from '../../ui/words/limits.ts'
import { noticesFromFacts } from '../../ui/words/photo-facts.ts'
import { photoNotice } from '../../ui/words/photo-refusals.ts'
import { levelMatchNotice, toneCurveUnknown } from '../../ui/words/tone.ts'

/** From so many on, notes would push what a person can choose off the screen. */
const MANY_NOTES = 2

/**
 * Everything that speaks against the figure, in order of weight; each thing is said once. What does not stop
 * it is one line, with what to do behind it.
 */
export function ReadingNotices({ model }: { model: ReadingModel }) {
  const photo = model.glow.photo.value
  const estimate = model.estimate.value
  const { kit } = useServices()
  const names = new Map(kit.references.value.map(({ id, name }) => [id, name]))
  const nameOf = (id: string) => names.get(id) ?? 'a known heat'
  const measured = (model.measurement.value?.findings ?? []).flatMap(
    (finding) => noticeFromMeasurement(finding) ?? [],
  )
  const cardChosen = model.greySource.value.kind !== 'none'
  const estimated = (estimate?.findings ?? []).map((finding) =>
    finding.code === 'no grey reference' && cardChosen
      ? CARD_NOT_COUNTED
      : finding.code === 'tone curve unknown' && model.measurement.value
        ? toneCurveUnknown(stopsFor(model.measurement.value.storedLevels))
        : noticeFromFinding(finding, showTemperature, nameOf),
  )
  const match = model.input.value && levelMatch(model.input.value)
  const cover = model.choices.value.cover === 'none' ? [] : [COVER_MIRRORS]
  const material = materialById(model.choices.value.materialId)
  const limit =
    material && estimate?.kind === 'temperature'
      ? limitNotice(
          compareWithLimits(material, estimate.temperatureK, estimate.standardUncertaintyK),
          material.name.toLowerCase(),
          showTemperature,
        )
      : null
  const ofPhoto = photo ? [...noticesFromFacts(photo.facts), ...photo.notes.map(photoNotice)] : []
  const all = [
    ...estimated,
    ...(match ? [levelMatchNotice(match, nameOf(match.referenceId))] : []),
    ...measured,
    ...(limit ? [limit] : []),
    ...cover,
    ...ofPhoto,
  ]
  const by = (weight: Weight) => all.filter((notice) => notice.weight === weight)
  const notes = by('note')
  const folded = notes.length < MANY_NOTES ? [...by('warn'), ...notes] : by('warn')
  return (
    <>
      <Notices notices={by('stop')} />
      {folded.map((notice) => (
        <FoldedNotice key={notice.title} notice={notice} />
      ))}
      {notes.length >= MANY_NOTES && (
        <details>
          <summary>{notes.length} notes</summary>
          <div class="inside">
            <Notices notices={notes} />
          </div>
        </details>
      )}
    </>
  )
}

/** Green unseen counts as at the first codes. */
function stopsFor([red, green]: Triple): number {
  const ln = (level: number) => Math.log(decodeTransfer(Math.max(level, 1 / 255)))
  return neededStops(ln(red), ln(green))
}
