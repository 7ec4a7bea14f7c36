/**
 * The architecture: which floor may import which, no screen another, one name for one thing,
 * numerical methods on their own floor. Prints its counts.
 */
import { afterAll, expect, test } from 'vitest'
import { codeFiles, importGraph, textOf } from '../scripts/import-graph.mjs'

/** From the ground up; a floor imports from those below it. */
const FLOORS = [
  ['numerics'],
  ['physics'],
  ['colour'],
  ['light'],
  ['estimate'],
  ['workers'],
  ['sources', 'log'],
  ['session'],
  ['ui'],
  ['screens'],
]

const graph = importGraph(codeFiles(['src']))
const files = [...graph.keys()]
const imports = [...graph].flatMap(([from, targets]) => targets.map((to) => ({ from, to })))
const code = files.filter((file) => !file.endsWith('.derive.mjs'))

/** The folder below src; the entry points stand over all floors. */
const floorOf = (file: string) => (file.split('/').length > 2 ? file.split('/')[1]! : 'entry')
const heightOf = (floor: string) =>
  floor === 'entry' ? FLOORS.length : FLOORS.findIndex((names) => names.includes(floor))
const screenOf = (file: string) => {
  const [, floor, screen, inside] = file.split('/')
  return floor === 'screens' && inside !== undefined ? screen : undefined
}
const say = ({ from, to }: { from: string; to: string }) => `${from} imports ${to}`

const counts: string[] = []
function expectNone(what: string, found: readonly string[]): void {
  counts.push(`${what}: ${found.length}`)
  expect(found.length, `${what}:\n${found.join('\n')}\n`).toBe(0)
}
afterAll(() =>
  console.log(`${files.length} files, ${imports.length} imports; ${counts.join(', ')}`),
)

test('every folder of src is a floor', () => {
  const unknown = files.map(floorOf).filter((floor) => heightOf(floor) < 0)
  expect([...new Set(unknown)]).toEqual([])
})

test('imports run downwards only', () => {
  const upward = imports.filter(({ from, to }) => {
    const [above, below] = [floorOf(from), floorOf(to)]
    return above !== below && heightOf(below) >= heightOf(above)
  })
  expectNone('upward imports', upward.map(say))
})

test('no screen imports another', () => {
  const across = imports.filter(({ from, to }) => {
    const screen = screenOf(from)
    return screen !== undefined && floorOf(to) === 'screens' && screenOf(to) !== screen
  })
  expectNone('cross-screen imports', across.map(say))
})

const declaration =
  /^export (?:declare )?(?:abstract )?(?:async )?(const|let|function\*?|interface|type|class|enum) +(\w+)/gm

test('an exported name is declared in one file', () => {
  const places = new Map<string, Set<string>>()
  for (const file of code)
    for (const [, , name] of textOf(file).matchAll(declaration))
      places.set(name!, (places.get(name!) ?? new Set()).add(file))
  const twice = [...places].filter(([, where]) => where.size > 1)
  expectNone(
    'exported names with two meanings',
    twice.map(([name, where]) => `${name}: ${[...where].join(', ')}`),
  )
})

/** Names of methods that belong to the ground floor, as parts of a declared name. */
const METHODS =
  /cholesky|gauss(?:ian)?elimination|gaussjordan|leastsquares|eigen|(?:^|solve)linearsystem|erfc?$|errorfunction|chisquared(?!prior)|incompletegamma|loggamma|spline|montonecubic|householder|^qr|determinant|transpose/i
/** Functions of a file, not those inside of others. */
const declared =
  /^(?:export )?(?:function\*? +(\w+)|const +(\w+)(?:: [^=]+)? = (?:async )?(?:<[^>]*>)?\()/gm

test('numerical methods stand on the ground floor only', () => {
  const ground = new Set(
    code
      .filter((file) => floorOf(file) === 'numerics')
      .flatMap((file) => [...textOf(file).matchAll(/^export (?:function\*?|const) +(\w+)/gm)])
      .map(([, name]) => name!),
  )
  const again = code
    .filter((file) => floorOf(file) !== 'numerics')
    .flatMap((file) =>
      [...textOf(file).matchAll(declared)]
        .map(([, name, arrow]) => (name ?? arrow)!)
        .filter((name) => METHODS.test(name) || ground.has(name))
        .map((name) => `${file} declares ${name}`),
    )
  expectNone('duplicates of numerics', again)
})

/** Where ids are declared that readings and kit store. */
const ID_FILES =
  /^src\/physics\/(materials|fixed-points|alloy|windows|lamp-targets|phase-cut|lamps)\.ts$/
/** Names of open standards. */
const STANDARD_NAMES = ['display-p3', 'utf-16be']
const kebab = (text: string, pattern: RegExp) =>
  [...text.matchAll(pattern)].map(([, name]) => name!)

test('kinds are words with spaces; only stored ids are in kebab-case', () => {
  const ids = new Set([
    ...STANDARD_NAMES,
    ...code
      .filter((file) => ID_FILES.test(file))
      .flatMap((file) => kebab(textOf(file), /'([a-z]+(?:-[a-z0-9]+)+)'/g)),
  ])
  const kinds = code.flatMap((file) =>
    kebab(textOf(file), /\| '([a-z]+(?:-[a-z0-9]+)+)'/g)
      .filter((kind) => !ids.has(kind))
      .map((kind) => `${file}: ${kind}`),
  )
  expectNone('kinds in kebab-case', kinds)
})
