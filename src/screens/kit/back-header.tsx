import type { ComponentChildren } from 'preact'

/** The head of a page behind the overview. */
export function BackHeader({
  to,
  title,
  children,
}: {
  to: string
  title: string
  children?: ComponentChildren
}) {
  return (
    <header>
      <a class="button" href={to}>
        Back
      </a>
      <h1>{title}</h1>
      {children}
    </header>
  )
}
