import { P3_COLORANTS, writeIccProfile } from '../../../tests/making/write-icc.ts'
import { writePng } from '../../../tests/making/write-png.ts'
import { probeCode } from './decoder-probe.ts'

/**
 * Prints decoder-probe.data.ts:
 * `node scripts/run-ts.mjs src/sources/photo/decoder-probe.derive.ts > src/sources/photo/decoder-probe.data.ts`
 */
export function main(): void {
  const png = writePng(16, 16, (x, y) => [0, 1, 2].map((c) => probeCode(x, y, c)), {
    iccProfile: writeIccProfile('Display P3', P3_COLORANTS),
  })
  const lines = btoa(String.fromCharCode(...png)).match(/.{1,92}/g) ?? []
  console.log('/** A 16x16 PNG in Display P3, made by decoder-probe.derive.ts. */')
  console.log(
    `export const PROBE_PNG = [\n${lines.map((line) => `  '${line}',`).join('\n')}\n].join('')`,
  )
}
