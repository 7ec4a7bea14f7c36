import { useSignal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { useServices } from '../services.ts'
import { removeItems, renameItem } from './kit-actions.ts'

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
      <details class="kit-entry">
        <summary>
          <span class="what">
            <strong>{title}</strong>
            {figure && <span class="figure">{figure}</span>}
            <span class="small soft line">{line}</span>
            {(tags.length > 0 || warning) && (
              <span class="tags">
                {warning && <span class="tag warn">{warning}</span>}
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

/** Rename and delete, the same for everything in the kit. */
export function EntryActions({
  id,
  name,
  children,
}: {
  id: string
  name: string
  children?: ComponentChildren
}) {
  const { log } = useServices()
  const text = useSignal(name)
  const changed = text.value.trim() !== name && text.value.trim() !== ''
  return (
    <>
      <form
        class="row"
        onSubmit={(event) => {
          event.preventDefault()
          if (changed) void renameItem(log, id, text.value.trim())
        }}
      >
        <label class="field grow">
          <span>Name</span>
          <input
            type="text"
            maxLength={200}
            value={text.value}
            onInput={(event) => {
              text.value = event.currentTarget.value
            }}
          />
        </label>
        {changed && (
          <button type="submit" class="primary at-foot">
            Rename
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
