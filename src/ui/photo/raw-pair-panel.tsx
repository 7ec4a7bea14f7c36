import { curveOriginOf } from '../../session/kit/store-curve.ts'
import type { RawPairModel } from '../../session/reading/raw-pair-model.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { GlossaryTerm } from '../glossary-term.tsx'
import { Notices } from '../notices.tsx'
import { rawPairRefusalNotice } from '../words/raw-pair.ts'
import { CurveDrawing } from './curve-drawing.tsx'
import { KeepCurve } from './store-curve.tsx'

/** What the raw picture of the same shot says of the photo's tone curve; offered to be kept. */
export function RawPairPanel({ model, pair }: { model: ReadingModel; pair: RawPairModel }) {
  const result = pair.result.value
  return (
    <section class="stack">
      <h2>Raw photo of the same shot</h2>
      {result === null && !pair.failed.value && (
        <progress aria-label="Comparing the photo with its raw file" />
      )}
      {result?.kind === 'refused' && <Notices notices={[rawPairRefusalNotice(result)]} />}
      {result?.kind === 'measured' && (
        <>
          <p>
            {pair.rawFile.name} gave the camera’s{' '}
            <GlossaryTerm of="tone curve">tone curve</GlossaryTerm>
            {result.balance && model.greySource.value.kind === 'none' && ' and white balance'}. No
            sweep is needed.
          </p>
          <KeepCurve
            id={pair.id}
            curve={result.curve}
            originOf={(at) => curveOriginOf(model, at)}
            label="Keep this tone curve for single photos"
          />
          <details>
            <summary>The recovered tone curve</summary>
            <div class="inside">
              <CurveDrawing curve={result.curve} />
              <dl class="facts">
                <dt>Kind</dt>
                <dd>
                  {result.curve.kind === 'channel'
                    ? 'each channel by itself'
                    : 'keeps the ratio of channels'}{' '}
                  ({(100 * result.kindProbability).toFixed(0)} %)
                </dd>
                <dt>Both saw</dt>
                <dd>{result.stops.toFixed(1)} stops</dd>
                <dt>Residual</dt>
                <dd>
                  {(100 * result.curve.residual).toFixed(1)} % of light over {result.curve.data}{' '}
                  values
                </dd>
              </dl>
            </div>
          </details>
        </>
      )}
    </section>
  )
}
