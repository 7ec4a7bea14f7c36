/**
 * Writes THIRD-PARTY.md: what others made and the app carries, with the licences. The list comes
 * from the lock file and the installed packages; `--check` only compares, for tests.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { argv } from 'node:process'
import { root } from './install.mjs'
import { parts } from './licences/parts.mjs'

const file = join(root, 'THIRD-PARTY.md')
const written = compose()
if (!argv.includes('--check')) {
  writeFileSync(file, written)
} else if (readText(file) !== written) {
  console.error('THIRD-PARTY.md is not what is installed: run npm run third-party.')
  process.exitCode = 1
} else {
  console.log('THIRD-PARTY.md is up to date.')
}

function compose() {
  const packages = shippedPackages()
  /** Licence text to the names that it stands for: many packages share one. @type {Map<string, string[]>} */
  const texts = new Map()
  /** @param {string} text @param {string} name */
  const add = (text, name) => texts.set(text, [...(texts.get(text) ?? []), name])

  for (const { name, text } of packages) add(text, name)
  for (const { name, text } of parts) if (text) add(licenceText(text), name)

  return `# What others made

Glowbook is built with the packages and data below. This list is written by
\`npm run third-party\` from the packages that are installed.

## Packages

| package | version | licence |
|---|---|---|
${packages.map(({ name, version, licence }) => `| ${name} | ${version} | ${licence} |`).join('\n')}

## Inside packages, and data

${parts.map(({ name, licence, note }) => `### ${name}\n\nLicence: ${licence}\n\n${note}`).join('\n\n')}

## Licence texts
${[...texts].map(([text, names]) => `\n### ${names.join(', ')}\n\n\`\`\`text\n${text}\n\`\`\`\n`).join('')}`
}

/** Every package that a dependency of the app brings along, sorted by name. */
function shippedPackages() {
  /** @typedef {{ version: string, license?: string, dependencies?: Record<string, string> }} Locked */
  /** @type {Record<string, Locked>} */
  const locked = JSON.parse(readText(join(root, 'package-lock.json'))).packages
  /** @type {Set<string>} */
  const paths = new Set()
  /** @param {string} from @param {Locked | undefined} entry */
  const follow = (from, entry) => {
    for (const name of Object.keys(entry?.dependencies ?? {})) {
      const nested = `${from === '' ? '' : `${from}/`}node_modules/${name}`
      const path = locked[nested] ? nested : `node_modules/${name}`
      if (paths.has(path)) continue
      paths.add(path)
      follow(path, locked[path])
    }
  }
  follow('', locked[''])
  return [...paths].sort().map((path) => {
    const about = JSON.parse(readText(join(root, path, 'package.json')))
    return {
      name: about.name,
      version: about.version,
      licence: about.license,
      text: packageLicence(path, about),
    }
  })
}

/** @param {string} path @param {{ name: string, license: string, author?: string | { name: string } }} about */
function packageLicence(path, about) {
  const name = readdirSync(join(root, path)).find((entry) => /^(licen[cs]e|copying)\b/i.test(entry))
  if (name !== undefined) return readText(join(root, path, name)).trim()
  const author = typeof about.author === 'object' ? about.author.name : about.author
  return `Copyright (c) ${author ?? `the authors of ${about.name}`} (the package holds no licence file)

${licenceText(`${about.license}.txt`)}`
}

/** @param {string} name */
function licenceText(name) {
  return readText(join(root, 'scripts', 'licences', name)).trim()
}

/** @param {string} path */
function readText(path) {
  return readFileSync(path, 'utf8').replaceAll('\r\n', '\n')
}
