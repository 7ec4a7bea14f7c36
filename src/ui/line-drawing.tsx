/** A drawing of one path on a 24 unit grid, in the colour of the text; decoration, never spoken. */
export function LineDrawing({ path, look }: { path: string; look?: string }) {
  return (
    <svg
      class={look}
      viewBox="0 0 24 24"
      aria-hidden="true"
      fill="none"
      stroke="currentColor"
      stroke-width="1.8"
      stroke-linecap="round"
      stroke-linejoin="round"
    >
      <path d={path} />
    </svg>
  )
}
