/** Readings as a busy workshop might have, made by arithmetic: the same at every run. */
import type { Reading, Result } from '../../../src/log/schema/types.ts'

const OBJECTS = [
  'Kiln shelf',
  'Forge bar',
  'Toaster coil',
  'Bench lamp',
  'Anvil face',
  'Örtl’s ring',
]
const MATERIALS = ['oxidised steel', 'clean steel', 'oxidised FeCrAl', 'bare tungsten', 'cavity']
const TAGS = ['hardening', 'firing', 'trial', 'morning', 'second heat']
const WORDS =
  'brushed scale first slow draught door open half glow even spot edge core orange cherry check again dimmer lamp shelf late'.split(
    ' ',
  )

const hex = (n: number, digits: number) => n.toString(16).padStart(digits, '0')

/** The n-th reading: one every ten minutes, inputs of about 2 kB. */
export function madeUpReading(n: number): Reading & { result: Result & { kind: 'temperature' } } {
  const pick = <T>(list: readonly T[], step: number): T => list[Math.floor(n / step) % list.length]!
  const temperatureK = 950 + ((n * 37) % 600) + (n % 7) / 7
  const u = 20 + (n % 40)
  const at = new Date(Date.UTC(2023, 0, 1) + n * 600_000).toISOString()
  const result: Result & { kind: 'temperature' } = {
    kind: 'temperature',
    temperatureK,
    standardUncertaintyK: u,
    expandedUncertaintyK: 2 * u,
    interval95K: [temperatureK - 2 * u, temperatureK + 2 * u],
    budget: ['camera', 'tone curve', 'grey reference', 'surface', 'pixel noise'].map((term, i) => ({
      term,
      contributionK: u / (i + 1.2),
      sharedBy: i < 4 ? `${term} a` : null,
    })),
    methodVersion: '1.0',
  }
  return {
    version: 2,
    id: `${hex(n, 8)}-0000-4000-8000-${hex((n * 7919) % 2 ** 40, 12)}`,
    savedAt: at,
    takenAt: { iso: at, zone: 'Europe/Vienna' },
    method: n % 5 === 0 ? 'sweep' : 'photo',
    simulated: false,
    demo: false,
    result,
    object: `${pick(OBJECTS, 1)} ${n % 50}`,
    material: pick(MATERIALS, 3),
    notes: Array.from(
      { length: 8 + (n % 12) },
      (_, i) => WORDS[(n * 13 + i * i * 7) % WORDS.length],
    ).join(' '),
    tags: n % 3 === 0 ? [pick(TAGS, 5)] : [],
    series: n % 10 === 0 ? `run ${n % 300}` : null,
    supply: n % 4 === 0 ? { volts: 100 + (n % 130), amperes: null, watts: 400 + (n % 900) } : null,
    place: '',
    roomTemperatureK: null,
    cover: 'none',
    chromaticity: { x: 0.6, y: 0.38, u: 0.38, v: 0.53, cctK: temperatureK, duv: 0.001 },
    swatch: [1, 0.4 + (n % 10) / 50, 0.1],
    picture: null,
    parts: [],
    inputs: {
      glow: { mean: [0.81234567, 0.0912345, 0.0123456], covariance: matrix(n) },
      references: Array.from({ length: 4 }, (_, i) => ({
        id: `reference ${i}`,
        temperatureK: 1073.6 + i,
        glow: { mean: [0.7, 0.08, 0.01], covariance: matrix(n + i) },
        balance: { logGains: [0.1, 0, 0.4], covariance: matrix(i) },
      })),
    },
    details: { findings: [{ code: 'tone curve unknown' }] },
    history: [],
    recomputations: [],
  }
}

function matrix(n: number): number[][] {
  return [1, 2, 3].map((row) => [1, 2, 3].map((column) => (1 + ((n * row * column) % 97)) / 1e7))
}

/** A file with readings from one number up to another, in pieces of a Blob. */
export function madeUpReadings(from: number, to: number): Blob {
  const pieces: Blob[] = [new Blob(['{"schema":"glowbook-log","version":2,"readings":['])]
  for (let start = from; start < to; start += 1000) {
    const some = Array.from({ length: Math.min(1000, to - start) }, (_, i) =>
      JSON.stringify(madeUpReading(start + i)),
    )
    pieces.push(new Blob([start > from ? ',' : '', some.join(',')]))
  }
  return new Blob([...pieces, new Blob(['],"kit":[]}'])])
}
