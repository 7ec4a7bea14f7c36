import { chapmanWords, stirlingWords } from './words/heat-names.ts'

/** The old names of a heat, after both tables. */
export function HeatNames({ temperatureK }: { temperatureK: number }) {
  return (
    <dl class="facts">
      <dt>Colour by Chapman</dt>
      <dd>{chapmanWords(temperatureK, temperatureK)}</dd>
      <dt>Colour by Stirling</dt>
      <dd>{stirlingWords(temperatureK, temperatureK)}</dd>
    </dl>
  )
}
