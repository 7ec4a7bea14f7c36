import type { StrayFinding, StrayResult } from '../../light/stray-light.ts'
import type { Notice } from './estimate.ts'
import { percent } from './percent.ts'

function findingNotice({ code, values }: StrayFinding): Notice {
  switch (code) {
    case 'stray light':
      return {
        weight: 'note',
        title: `Light of other sources was ${percent(values.redShare)} of the glow`,
        todo: 'Taken off by the lights-only photo. Darkness is better still.',
      }
    case 'stray light clipped':
      return {
        weight: 'warn',
        title: 'The lights-only photo is clipped in the region',
        todo: 'A clipped lamp says nothing about what lies before it. Expose both photos less.',
      }
    case 'stray light exceeds glow':
      return {
        weight: 'warn',
        title: 'Other light is stronger in green than the glow',
        todo: 'What is left is uncertain. Switch the lights off, or shade the piece.',
      }
  }
}

/** What came of a lights-only photo. */
export function strayNotices(result: StrayResult): Notice[] {
  if (result.kind === 'measured') return result.findings.map(findingNotice)
  return [
    {
      weight: 'stop',
      title:
        result.reason === 'sizes differ'
          ? 'The lights-only photo has another size'
          : 'Raw and ordinary photos cannot be subtracted',
      todo: 'Take both with the same camera, settings and view. It is not used.',
    },
  ]
}
