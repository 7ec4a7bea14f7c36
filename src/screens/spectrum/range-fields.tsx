import type { TrustedRange } from '../../estimate/spectrum/types.ts'
import type { SpectrumModel } from '../../session/spectrum/model-types.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { DISTRUST_WORDS, stretchWords } from '../../ui/words/spectrum.ts'

const LEAST_NM = 150
const MOST_NM = 2600

/** The wavelengths that count, why they end where they do, and the way to set them otherwise. */
export function RangeFields({ model, found }: { model: SpectrumModel; found: TrustedRange }) {
  const set = model.range.value
  const used = set ?? found
  const change = (part: { fromNm?: number; toNm?: number }) => {
    const next = { fromNm: used.fromNm, toNm: used.toNm, ...part }
    if (next.fromNm < next.toNm) model.range.value = next
  }
  return (
    <section class="stack" aria-labelledby="trusted-range">
      <h2 id="trusted-range">Trusted from {stretchWords(found)}</h2>
      <p class="small soft">
        Below {found.fromNm.toFixed(0)} nm {DISTRUST_WORDS[found.shortEnd]}; above{' '}
        {found.toNm.toFixed(0)} nm {DISTRUST_WORDS[found.longEnd]}.
        {found.excluded.length > 0 &&
          ` Left out inside: ${found.excluded.map((one) => `${stretchWords(one)} (${DISTRUST_WORDS[one.reason]})`).join(', ')}.`}
      </p>
      <details>
        <summary>{set ? `Set by hand: ${stretchWords(set)}` : 'Set the range by hand'}</summary>
        <div class="inside">
          <div class="row">
            <NumberField
              label="From, nm"
              value={Number(used.fromNm.toFixed(1))}
              min={LEAST_NM}
              max={MOST_NM}
              onValue={(value) => value !== null && change({ fromNm: value })}
            />
            <NumberField
              label="To, nm"
              value={Number(used.toNm.toFixed(1))}
              min={LEAST_NM}
              max={MOST_NM}
              onValue={(value) => value !== null && change({ toNm: value })}
            />
          </div>
          <button
            type="button"
            disabled={set === null}
            onClick={() => {
              model.range.value = null
            }}
          >
            Back to the range found
          </button>
        </div>
      </details>
    </section>
  )
}
