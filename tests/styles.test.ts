import { readdirSync, readFileSync, statSync } from 'node:fs'
import { basename, dirname, join, resolve } from 'node:path'
import { expect, test } from 'vitest'

const filesUnder = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name)
    return statSync(path).isDirectory() ? filesUnder(path) : [path]
  })

const sheets = filesUnder('src').filter((path) => path.endsWith('.css'))

const camelCase = (name: string) => name.replace(/-(\w)/g, (_, letter) => letter.toUpperCase())

/** Class names that a CSS module gives, in the form in which components ask for them. */
function classesOf(path: string): Set<string> {
  const css = readFileSync(path, 'utf8')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/:global\([^)]*\)/g, '')
  return new Set([...css.matchAll(/\.([a-zA-Z][\w-]*)/g)].map(([, name]) => camelCase(name!)))
}

test('every class that a component takes from a CSS module stands in that module', () => {
  const missing = filesUnder('src')
    .filter((path) => /\.tsx?$/.test(path))
    .flatMap((path) => {
      const text = readFileSync(path, 'utf8')
      const from = text.match(/import css from '([^']+\.module\.css)'/)?.[1]
      if (!from) return []
      const classes = classesOf(resolve(dirname(path), from))
      const used = [...text.matchAll(/\bcss\.(\w+)/g)].map(([, name]) => name!)
      return used.filter((name) => !classes.has(name)).map((name) => `${path}: ${name}`)
    })
  expect(missing).toEqual([])
})

test('only ui/style is global: every other style sheet is a CSS module', () => {
  const global = sheets.filter((path) => !path.endsWith('.module.css'))
  expect(global.filter((path) => dirname(path) !== join('src', 'ui', 'style'))).toEqual([])
})

test('every style sheet that is imported is there, and every sheet is imported', () => {
  const imported = filesUnder('src')
    .filter((path) => /\.tsx?$/.test(path))
    .flatMap((path) =>
      [...readFileSync(path, 'utf8').matchAll(/(?:from|import) '(\.[^']+\.css)'/g)].map(([, to]) =>
        resolve(dirname(path), to!),
      ),
    )
  expect([...new Set(imported)].sort()).toEqual(sheets.map((path) => resolve(path)).sort())
})

test('no two CSS modules share a name, which stands before each of their classes', () => {
  const names = sheets.map((path) => basename(path))
  expect(names.filter((name, i) => names.indexOf(name) !== i)).toEqual([])
})

/** Class names of a global sheet; those in a list of :is() are only met, not styled anew. */
const globalClasses = (path: string) =>
  new Set(
    [
      ...readFileSync(path, 'utf8')
        .replace(/\/\*[\s\S]*?\*\//g, '')
        .matchAll(/^\s*([^{}@;]+)\{/gm),
    ].flatMap(([, selector]) =>
      [...selector!.matchAll(/\.([a-zA-Z][\w-]*)/g)].map(([, name]) => name!),
    ),
  )

test('a global class stands in one sheet', () => {
  const places = new Map<string, string[]>()
  for (const path of sheets.filter((sheet) => !sheet.endsWith('.module.css')))
    for (const name of globalClasses(path)) places.set(name, [...(places.get(name) ?? []), path])
  expect([...places].filter(([, where]) => where.length > 1)).toEqual([])
})
