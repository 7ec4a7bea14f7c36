import type { KitItem } from '../../log/types.ts'
import { showDay, showMoment } from '../../ui/words/dates.ts'
import { CurveDrawing } from '../reading/curve-drawing.tsx'
import { Entry, EntryActions, Facts } from './entry.tsx'
import type { KeptCurve } from './kept.ts'

const percent = (ln: number) => `${(100 * ln).toFixed(1)} % of light`

/** A tone curve found by an exposure sweep. */
export function CurveEntry({ kept, item }: { kept: KeptCurve; item: KitItem }) {
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
