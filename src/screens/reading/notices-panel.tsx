import { Notices } from '../../ui/notices.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { noticeFromFinding } from '../../ui/words/estimate.ts'
import { noticeFromMeasurement } from '../../ui/words/glow-findings.ts'
import { noticesFromFacts } from '../../ui/words/photo-facts.ts'
import { photoNotice } from '../../ui/words/photo-refusals.ts'
import { useServices } from '../services.ts'
import type { ReadingModel } from './reading-model.ts'

/** Everything that speaks against the figure, in order of weight; each thing is said once. */
export function ReadingNotices({ model }: { model: ReadingModel }) {
  const photo = model.glow.photo.value
  const estimate = model.estimate.value
  const { kit } = useServices()
  const names = new Map(kit.references.value.map(({ id, name }) => [id, name]))
  const measured = (model.measurement.value?.findings ?? []).flatMap(
    (finding) => noticeFromMeasurement(finding) ?? [],
  )
  const estimated = (estimate?.findings ?? []).map((finding) =>
    noticeFromFinding(finding, showTemperature, (id) => names.get(id) ?? 'a known heat'),
  )
  const ofPhoto = photo ? [...noticesFromFacts(photo.facts), ...photo.notes.map(photoNotice)] : []
  return <Notices notices={[...estimated, ...measured, ...ofPhoto]} />
}
