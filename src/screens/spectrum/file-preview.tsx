import type {
  ImportChoices,
  ImportedSpectra,
  ImportRefusal,
} from '../../light/spectrum-import/result.ts'
import type { ImportedFile } from '../../session/spectrum/imported-files.ts'
import { Notices } from '../../ui/notices.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import {
  BAD_LINE_WORDS,
  DECIMAL_MARK_WORDS,
  DELIMITER_WORDS,
  DIRECTION_WORDS,
  IMPORT_WORDS,
  importFindingWords,
  importRefusalNotice,
  WAVELENGTH_UNIT_WORDS,
} from '../../ui/words/spectrum-import.ts'
import style from './file-preview.module.css'

/** Headings shown; more are counted. */
const SHOWN_HEADINGS = 4

/** What was understood of a text, and the ways to put it right. */
export function FilePreview({
  file,
  onChoices,
  onRemove,
}: {
  file: ImportedFile
  onChoices: (choices: ImportChoices) => void
  onRemove: () => void
}) {
  const { name, result, choices } = file
  if (result === null) {
    return (
      <p class="card" aria-busy="true">
        Reading {name} …
      </p>
    )
  }
  return (
    <>
      {!result.ok && <Notices notices={[importRefusalNotice(result, name)]} />}
      <details class={style.preview} open={!result.ok}>
        <summary>
          <span class={style.what}>
            <strong>{name}</strong>
            <span class="small soft">{result.ok ? <Understood result={result} /> : 'Refused'}</span>
          </span>
        </summary>
        <div class="inside">
          {result.ok ? <PreviewFacts result={result} /> : <RefusedLine refusal={result} />}
          <LayoutChoices choices={choices} onChoices={onChoices} />
          <button type="button" class="danger" onClick={onRemove}>
            Take it out
          </button>
        </div>
      </details>
    </>
  )
}

/** The preview in one line. */
function Understood({ result }: { result: ImportedSpectra }) {
  const { spectra, preview } = result
  const first = spectra[0]
  const bad = preview.badLines.count
  const count = spectra.length === 1 ? '1 spectrum' : `${spectra.length} spectra`
  const nm = first
    ? `${first.wavelengthNm[0]?.toFixed(0)} to ${first.wavelengthNm.at(-1)?.toFixed(0)} nm`
    : ''
  return (
    <>
      {count}, {preview.rows} rows, {nm}
      {bad > 0 && (
        <strong class={style.bad}>, {bad === 1 ? '1 bad line' : `${bad} bad lines`}</strong>
      )}
    </>
  )
}

function PreviewFacts({ result }: { result: ImportedSpectra }) {
  const { preview, findings } = result
  const { headings, badLines } = preview
  const said = findings.flatMap((finding) => importFindingWords(finding) ?? [])
  return (
    <>
      <dl class="facts">
        <dt>Between columns</dt>
        <dd>{DELIMITER_WORDS[preview.delimiter]}</dd>
        <dt>Decimal mark</dt>
        <dd>{DECIMAL_MARK_WORDS[preview.decimalMark]}</dd>
        <dt>Wavelength in</dt>
        <dd>{WAVELENGTH_UNIT_WORDS[preview.unit]}</dd>
        <dt>Order</dt>
        <dd>{DIRECTION_WORDS[preview.direction]}</dd>
        <dt>Rows</dt>
        <dd>{preview.rows}</dd>
        {headings.count > 0 && (
          <>
            <dt>Headings</dt>
            <dd class={style.headings}>
              {headings.first.slice(0, SHOWN_HEADINGS).map(({ line, text }) => (
                <span key={line}>{text}</span>
              ))}
              {headings.count > SHOWN_HEADINGS && (
                <span class="soft">and {headings.count - SHOWN_HEADINGS} more lines</span>
              )}
            </dd>
          </>
        )}
      </dl>
      {said.length > 0 && (
        <ul class="small">
          {said.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {badLines.count > 0 && <BadLineList badLines={badLines} />}
    </>
  )
}

function BadLineList({ badLines }: { badLines: ImportedSpectra['preview']['badLines'] }) {
  return (
    <div class={`stack ${style.badLines}`}>
      <p>
        Left out: {badLines.count === 1 ? '1 line' : `${badLines.count} lines`}
        {badLines.count > badLines.first.length && `, the first ${badLines.first.length}:`}
      </p>
      <ul class="small">
        {badLines.first.map(({ line, reason, text }) => (
          <li key={line}>
            Line {line}: {BAD_LINE_WORDS[reason]}. <code>{text}</code>
          </li>
        ))}
      </ul>
    </div>
  )
}

function RefusedLine({ refusal }: { refusal: ImportRefusal }) {
  return (
    <>
      {refusal.line !== null && refusal.text && (
        <p class="small">
          Line {refusal.line}: <code>{refusal.text}</code>
        </p>
      )}
      {refusal.badLines && refusal.badLines.count > 0 && (
        <BadLineList badLines={refusal.badLines} />
      )}
    </>
  )
}

/** For layouts that were taken wrongly. */
function LayoutChoices({
  choices,
  onChoices,
}: {
  choices: ImportChoices
  onChoices: (choices: ImportChoices) => void
}) {
  const pick = <Name extends keyof ImportChoices>(
    label: string,
    name: Name,
    words: Record<NonNullable<ImportChoices[Name]>, string>,
  ) => (
    <SelectField
      label={label}
      of={[['', IMPORT_WORDS.asFound], ...Object.entries<string>(words)]}
      value={choices[name] ?? ''}
      onValue={(chosen) => {
        const { [name]: _, ...others } = choices
        onChoices(chosen === '' ? others : { ...others, [name]: chosen })
      }}
    />
  )
  return (
    <div class="row">
      {pick('Columns', 'delimiter', DELIMITER_WORDS)}
      {pick('Decimal mark', 'decimalMark', DECIMAL_MARK_WORDS)}
      {pick('Wavelength', 'unit', WAVELENGTH_UNIT_WORDS)}
    </div>
  )
}
