import type { KitItem } from '../../log/schema/types.ts'
import type { StoredCurve } from '../../session/kit/stored-items.ts'
import { Entry, EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { CurveDrawing } from '../../ui/photo/curve-drawing.tsx'
import { showDay, showMoment } from '../../ui/words/dates.ts'

const percent = (ln: number) => `${(100 * ln).toFixed(1)} % of light`

/** A tone curve found by an exposure sweep. */
export function CurveEntry({ kept, item }: { kept: StoredCurve; item: KitItem }) {
  return (
    <Entry
      title={kept.name}
      line={`${showDay(item.date.iso)} · ${item.cameraId ?? 'not stated'}`}
      warning={kept.check && !kept.check.agrees ? 'no longer holds' : null}
    >
      <CurveDrawing curve={kept.curve} />
      <Facts
        rows={[
          ['Holds for', kept.curveId],
          ['Found', showMoment(item.date.iso)],
          ['Residual', percent(kept.curve.residual)],
          [
            'Last checked',
            kept.check ? `${showMoment(kept.check.at)}, ${percent(kept.check.residual)}` : 'never',
          ],
        ]}
      />
      <EntryActions id={kept.id} name={kept.name} />
    </Entry>
  )
}
