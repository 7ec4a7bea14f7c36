import type { KitItem } from '../../log/types.ts'
import { showDay, showMoment } from '../../ui/words/dates.ts'
import { CurveDrawing } from '../reading/curve-drawing.tsx'
import { Entry, EntryActions, Facts } from './entry.tsx'
import type { KeptCurve } from './kit-model.ts'

/** A tone curve found by an exposure sweep. */
export function CurveEntry({ kept, item }: { kept: KeptCurve; item: KitItem }) {
  return (
    <Entry title={kept.name} line={`${showDay(item.date.iso)} · ${item.cameraId ?? 'not stated'}`}>
      <CurveDrawing curve={kept.curve} />
      <Facts
        rows={[
          ['Holds for', kept.curveId],
          ['Found', showMoment(item.date.iso)],
        ]}
      />
      <EntryActions id={kept.id} name={kept.name} />
    </Entry>
  )
}
