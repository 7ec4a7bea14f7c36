/** A checker of Stryker that lets the sampled mutants pass; the others are not run and not counted. */
import { readFileSync } from 'node:fs'
import { env } from 'node:process'
import { CheckStatus } from '@stryker-mutator/api/check'
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin'
import { nameOf } from './sample.mjs'

class SampleChecker {
  /** @type {[]} */
  static inject = []

  /** @type {Set<string>} */
  sample = new Set()

  async init() {
    this.sample = new Set(JSON.parse(readFileSync(String(env.GLOWBOOK_MUTANTS), 'utf8')))
  }

  /**
   * @param {import('@stryker-mutator/api/core').Mutant[]} mutants
   * @returns {Promise<Record<string, import('@stryker-mutator/api/check').CheckResult>>}
   */
  async check(mutants) {
    return Object.fromEntries(
      mutants.map((mutant) => [
        mutant.id,
        this.sample.has(nameOf(mutant))
          ? { status: CheckStatus.Passed }
          : { status: CheckStatus.CompileError, reason: 'not in the sample' },
      ]),
    )
  }

  /** @param {import('@stryker-mutator/api/core').Mutant[]} mutants */
  async group(mutants) {
    return [mutants.map(({ id }) => id)]
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, 'sample', SampleChecker)]
