import { LEAST_FOR_LAW } from '../../estimate/recording/laws.ts'
import type { Mark } from '../../log/recordings/recording-schema.ts'
import type { RecordingModel } from '../../session/recording/recording-model.ts'
import { showDifference, showFigure } from '../../ui/temperature.ts'
import { showDuration } from '../../ui/words/duration.ts'
import {
  LAW_NAMES,
  LAW_NEEDS,
  NO_LAW,
  SLOPE_LIMITS,
  showSeconds,
  showSlope,
} from '../../ui/words/recording.ts'

/** Slope and law of a part of the curve. */
export function StretchPanel({
  model,
  duration,
  marks,
}: {
  model: RecordingModel
  duration: number
  marks: readonly Mark[]
}) {
  const stretch = model.stretch.value ?? { from: 0, to: duration }
  const part = model.part.value
  const slope = part?.slope ?? null
  const laws = part?.laws ?? []
  const peak = model.peak.value
  const fitting = laws.filter(({ fits }) => fits)
  const set = (from: number, to: number) => {
    model.stretch.value = { from: Math.min(from, to), to: Math.max(from, to) }
  }
  const slider = (label: string, which: 'from' | 'to') => (
    <label class="field">
      <span>
        {label} {showDuration(stretch[which])}
      </span>
      <input
        type="range"
        min={0}
        max={duration}
        step="any"
        value={stretch[which]}
        onInput={(event) => {
          const at = event.currentTarget.valueAsNumber
          if (which === 'from') set(at, Math.max(at, stretch.to))
          else set(Math.min(at, stretch.from), at)
        }}
      />
    </label>
  )
  return (
    <details onToggle={() => model.askPart()}>
      <summary>Slope and law of a part</summary>
      <div class="inside">
        {slider('From', 'from')}
        {slider('To', 'to')}
        <div class="row tight">
          <button
            type="button"
            class="grow"
            onClick={() => {
              model.stretch.value = null
            }}
          >
            Whole
          </button>
          {peak && (
            <>
              <button type="button" class="grow" onClick={() => set(0, peak.seconds)}>
                To the peak
              </button>
              <button type="button" class="grow" onClick={() => set(peak.seconds, duration)}>
                From the peak
              </button>
            </>
          )}
          {marks.slice(0, 3).map((mark) => (
            <button
              key={mark.seconds}
              type="button"
              class="grow"
              onClick={() => set(mark.seconds, duration)}
            >
              From “{mark.name}”
            </button>
          ))}
        </div>
        {slope && (
          <p class="figure">
            Mean slope <strong>{showSlope(slope.slope, slope.standardUncertainty)}</strong>
          </p>
        )}
        {slope?.limit && <p class="soft small">{SLOPE_LIMITS[slope.limit]}</p>}
        {part && laws.length === 0 && (slope?.readings ?? 0) < LEAST_FOR_LAW && (
          <p class="soft">{LAW_NEEDS}</p>
        )}
        {laws.length > 0 && fitting.length === 0 && <p class="soft">{NO_LAW}</p>}
        {laws.map((fit) => (
          <dl class="facts" key={fit.law}>
            <dt>{LAW_NAMES[fit.law]}</dt>
            <dd>{fit.fits ? 'fits' : 'does not fit'}</dd>
            {fit.fits && (
              <>
                <dt>Time constant</dt>
                <dd>{showSeconds(fit.tauSeconds, fit.tauUncertainty)}</dd>
                {fit.endUncertaintyK > 0 && (
                  <>
                    <dt>Leads to</dt>
                    <dd>{showFigure(fit.endK, 2 * fit.endUncertaintyK)}</dd>
                  </>
                )}
              </>
            )}
            <dt>Residuals</dt>
            <dd>
              {showDifference(fit.rmsK)} rms, largest bow{' '}
              {showDifference(Math.abs(fit.largestBlockK))}
            </dd>
          </dl>
        ))}
      </div>
    </details>
  )
}
