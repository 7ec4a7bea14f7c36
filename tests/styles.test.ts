import { readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { expect, test } from 'vitest'

const filesUnder = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name)
    return statSync(path).isDirectory() ? filesUnder(path) : [path]
  })

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
