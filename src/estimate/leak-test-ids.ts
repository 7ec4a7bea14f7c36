/** Names of the tests of an infrared filter, beside their mathematics: the first screen reads stored ones. */
export const LEAK_TEST_IDS = ['remote control', 'hot plate'] as const
export type LeakTestId = (typeof LEAK_TEST_IDS)[number]
