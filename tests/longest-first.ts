import { BaseSequencer, type TestSpecification } from 'vitest/node'

/**
 * Files that take several seconds each, longest first: begun last, one of them would keep one core busy
 * while the other has nothing left. Where Vitest remembers a former run it does this by itself; a fresh
 * clone has none. A file that is missing here costs seconds, nothing else.
 */
const LONG = [
  'ready-walk',
  'kit',
  'failures',
  'linear-light',
  'journey',
  'read-photos',
  'ready-camera',
  'recording',
  'live-tracks',
  'chart',
  'kit-salt',
  'dark-shop',
  'live',
  'spectrum-bench',
  'accuracy/accuracy',
  'plateaus',
  'lights',
  'light/independent-photos',
  'differences',
  'live-model',
  'camera-look',
  'measure-sweep',
  'measure-pair',
  'references',
  'recover-response',
  'read-frames',
  'tone-curve',
  'heat-maps',
]

const place = ({ moduleId }: TestSpecification) => {
  const at = LONG.findIndex((name) => moduleId.endsWith(`/${name}.test.ts`))
  return at < 0 ? LONG.length : at
}

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files)
    return usual.sort((a, b) => place(a) - place(b))
  }
}
