import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

const read = (name: string) => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8')

/** GNU Lesser General Public License 2.1, section 6: source, offer, and how to put another in. */
test('the source of the raw decoder is offered in the release that is installed', () => {
  const { dependencies } = JSON.parse(read('package.json'))
  const wrapper = dependencies['libraw-wasm']
  const list = read('THIRD-PARTY.md')
  const [, part] = list.match(/### LibRaw (.*?)\n### /s) ?? []
  expect(part).toContain(`release ${wrapper} of libraw-wasm`)
  expect(part).toContain(`https://github.com/ybouane/LibRaw-Wasm/tree/v${wrapper}`)
  const [release] = part?.match(/^[\d.]+/) ?? []
  expect(part).toContain(`https://github.com/LibRaw/LibRaw/tree/${release}`)
  expect(part).toMatch(/Written offer: .* three years/s)
  expect(part).toContain('To replace it:')
})
