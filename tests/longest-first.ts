import { BaseSequencer, type TestSpecification } from 'vitest/node'

/**
 * Files that take several seconds each, longest first: begun last, one of them would keep one core busy
 * while the other has nothing left. Where Vitest remembers a former run it does this by itself; a fresh
 * clone has none. A file that is missing here costs seconds, nothing else.
 */
const LONG = [
  'linear-light',
  'ready-camera',
  'read-photos',
  'recording',
  'kit',
  'kit-salt',
  'dark-shop',
  'live',
  'light/independent-photos',
  'live-model',
  'camera-look',
  'accuracy/accuracy',
  'differences',
  'lights',
  'measure-pair',
  'plateaus',
  'references',
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
