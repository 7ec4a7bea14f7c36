/** Finds a Chromium for the browser tests, or gets one. */
import { spawnSync } from 'node:child_process'
import { accessSync, constants, existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'
import { env, execPath, getuid } from 'node:process'
import { chromium } from 'playwright-core'
import { root } from './install.mjs'

/** The headless shell first: the same engine without the windows, which cost a quarter of the time. */
const names = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
]
const elsewhere = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  join(env.PROGRAMFILES ?? 'C:\\Program Files', 'Google', 'Chrome', 'Application', 'chrome.exe'),
]

/** Flags for a quiet, local browser; no sandbox since continuous integration often runs as root. */
export const browserFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/**
 * CHROME_PATH, then the search path, then the usual places, then Playwright's own.
 * @returns {string | undefined} path of the browser, undefined when there is none
 */
export function findBrowser() {
  const given = env.CHROME_PATH
  if (given) {
    if (!canRun(given)) throw new Error(`CHROME_PATH is ${given}, which is no program to run.`)
    return given
  }
  const folders = (env.PATH ?? '').split(delimiter).filter((folder) => folder !== '')
  const onPath = names.flatMap((name) => folders.map((folder) => join(folder, name)))
  return [...onPath, ...elsewhere, chromium.executablePath()].find(canRun)
}

/** Like findBrowser, and installs one where there is none: Debian's packages as root, else Playwright's. */
export function ensureBrowser() {
  const found = findBrowser()
  if (found !== undefined) return found
  if (getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    console.log('No browser found: installing the chromium packages ...')
    // Older releases have no shell of its own: the second package is then what is found.
    installPackages('chromium-headless-shell')
    if (findBrowser() === undefined) installPackages('chromium')
  }
  if (findBrowser() === undefined) {
    console.log("No browser found: downloading Playwright's Chromium ...")
    run(execPath, [
      join(root, 'node_modules/playwright-core/cli.js'),
      'install',
      '--no-shell',
      'chromium',
    ])
  }
  const got = findBrowser()
  if (got !== undefined) return got
  throw new Error('No browser: install Chromium or Chrome, or name one in CHROME_PATH.')
}

/** @param {string[]} packages */
function installPackages(...packages) {
  run('apt-get', ['update', '-q'])
  run('apt-get', ['install', '-y', '-q', '--no-install-recommends', ...packages])
}

/** @param {string} command @param {string[]} args */
function run(command, args) {
  spawnSync(command, args, {
    stdio: 'inherit',
    env: { ...env, DEBIAN_FRONTEND: 'noninteractive' },
  })
}

/** @param {string} path */
function canRun(path) {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
