import { describe, expect, test } from 'vitest'
import { LogError } from '../../../src/log/schema/errors.ts'
import {
  asLogError,
  isDiskFull,
  openingError,
  storageFull,
} from '../../../src/log/store/storage-errors.ts'

const dom = (name: string, message = 'what the browser says') => new DOMException(message, name)
const estimate = async () => ({ usage: 9, quota: 10 })
const failure = (error: unknown) => (error as LogError).failure

describe('a database that does not open', () => {
  test.each([
    [
      dom('QuotaExceededError'),
      false,
      { code: 'storage full', usageBytes: null, quotaBytes: null },
    ],
    [
      dom('UnknownError', 'disk full'),
      true,
      { code: 'storage full', usageBytes: null, quotaBytes: null },
    ],
    [dom('VersionError'), false, { code: 'version newer' }],
    [dom('AbortError', 'why'), true, { code: 'upgrade failed', detail: 'AbortError: why' }],
    [new Error('why'), true, { code: 'upgrade failed', detail: 'Error: why' }],
    [
      dom('UnknownError', 'why'),
      false,
      { code: 'storage unanswered', detail: 'UnknownError: why' },
    ],
    [dom('SecurityError', 'why'), false, { code: 'storage refused', detail: 'SecurityError: why' }],
    [new Error('UnknownError'), false, { code: 'storage refused', detail: 'Error: UnknownError' }],
  ])('%s', (error, upgrading, told) => {
    const found = openingError(error, upgrading)
    expect(found.failure).toEqual(told)
    expect(found.cause).toBe(error)
    expect(found.code).toBe(told.code)
    expect(found.message).toBe(`log: ${told.code}`)
    expect(found.name).toBe('LogError')
  })
})

describe('an error of the database', () => {
  test('is told as what it means; those of the log and of the program pass as they are', async () => {
    const ours = new LogError({ code: 'closed' })
    const program = new TypeError('no function')
    expect(await asLogError(ours, estimate)).toBe(ours)
    expect(await asLogError(program, estimate)).toBe(program)
    const full = { code: 'storage full', usageBytes: 9, quotaBytes: 10 }
    expect(failure(await asLogError(dom('QuotaExceededError'), estimate))).toEqual(full)
    const disk = dom('DataError', 'Failed to write blobs')
    expect(failure(await asLogError(disk, estimate))).toEqual(full)
    const other = dom('DataError', 'lost')
    const told = (await asLogError(other, estimate)) as LogError
    expect(told.failure).toEqual({ code: 'storage failed', detail: 'DataError: lost' })
    expect(told.cause).toBe(other)
  })

  test('without room says how much there is, as far as the browser does', async () => {
    const of = async (answer: () => Promise<StorageEstimate | undefined>) =>
      failure(await storageFull(answer))
    const unknown = { code: 'storage full', usageBytes: null, quotaBytes: null }
    expect(await of(async () => ({ usage: 5 }))).toEqual({ ...unknown, usageBytes: 5 })
    expect(await of(async () => undefined)).toEqual(unknown)
    expect(await of(() => Promise.reject(new Error('no')))).toEqual(unknown)
  })
})

test('a full disk is known by the words of the browsers, a share that is used up is none', () => {
  for (const words of [
    'Failed to write blobs (NoSpace)',
    'NO_SPACE',
    'no space left',
    'no space: 12 of 24 bytes',
    'The disk is full',
    'disk full',
    'NS_ERROR_FILE_NO_DEVICE_SPACE',
  ]) {
    expect(isDiskFull(new Error(words)), words).toBe(true)
    expect(isDiskFull(dom('UnknownError', words)), words).toBe(true)
    expect(isDiskFull(dom('QuotaExceededError', words)), words).toBe(false)
    expect(isDiskFull(words), words).toBe(false)
  }
  expect(isDiskFull(dom('UnknownError', 'the diskette is full of holes'))).toBe(false)
  expect(isDiskFull(null)).toBe(false)
})
