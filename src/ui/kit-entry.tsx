import type { ComponentChildren } from 'preact'
import { useServices } from '../session/services.ts'
import { removeItems, rewordItem } from './kit-actions.ts'
import css from './kit-entry.module.css'
import { TextField } from './text-field.tsx'
import { useTyped } from './use-typed.ts'

/** One thing of the kit: a line, and behind it the facts and what can be done. */
export function Entry({
  title,
  figure,
  line,
  tags = [],
  warning = null,
  children,
}: {
  title: string
  figure?: ComponentChildren
  line: string
  tags?: readonly string[]
  warning?: string | null
  children: ComponentChildren
}) {
  return (
    <li>
      <details class={css.entry}>
        <summary>
          <span class={css.what}>
            <strong>{title}</strong>
            {figure && <span class="figure">{figure}</span>}
            <span class={`small soft ${css.line}`}>{line}</span>
            {(tags.length > 0 || warning) && (
              <span class={css.tags}>
                {warning && <span class={`tag ${css.warn}`}>{warning}</span>}
                {tags.map((tag) => (
                  <span key={tag} class="tag">
                    {tag}
                  </span>
                ))}
              </span>
            )}
          </span>
        </summary>
        <div class="inside">{children}</div>
      </details>
    </li>
  )
}

export function Facts({ rows }: { rows: readonly (readonly [string, ComponentChildren])[] }) {
  return (
    <dl class="facts">
      {rows.map(([name, value]) => (
        <>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </>
      ))}
    </dl>
  )
}

/** Rename and delete, the same for everything in the kit; some have notes to change too. */
export function EntryActions({
  id,
  name,
  notes,
  children,
}: {
  id: string
  name: string
  notes?: { readonly label: string; readonly text: string }
  children?: ComponentChildren
}) {
  const { log } = useServices()
  const text = useTyped(`kit name ${id}`, name)
  const noted = useTyped(`kit notes ${id}`, notes?.text)
  const renamed = text.value.trim() !== name
  const changed =
    (renamed || noted.value.trim() !== (notes?.text ?? '')) && text.value.trim() !== ''
  return (
    <>
      <form
        class={notes ? 'stack' : 'row'}
        onSubmit={(event) => {
          event.preventDefault()
          if (!changed) return
          const words = { name: text.value.trim() }
          void rewordItem(log, id, notes ? { ...words, notes: noted.value.trim() } : words)
        }}
      >
        <TextField
          label="Name"
          value={text.value}
          onValue={(typed) => {
            text.value = typed
          }}
        />
        {notes && (
          <TextField
            label={notes.label}
            longest={400}
            value={noted.value}
            onValue={(typed) => {
              noted.value = typed
            }}
          />
        )}
        {changed && (
          <button type="submit" class="primary at-foot">
            {notes ? 'Change' : 'Rename'}
          </button>
        )}
      </form>
      <div class="row">
        {children}
        <button
          type="button"
          class="danger grow"
          onClick={() => void removeItems(log, [id], `${name} deleted.`)}
        >
          Delete
        </button>
      </div>
    </>
  )
}
