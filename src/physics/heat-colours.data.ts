// Names of the heat colours of steel, as printed. The two sources disagree by up to 100 °C.

/** Where Draper first saw a solid glow, °C. Source: Draper 1847 (977 °F). */
export const DRAPER_FIRST_GLOW_C = 525

/**
 * Ranges, °C, each from its first whole degree up to the first of the next.
 * Source: Chapman, Workshop Technology, part 1 (1972): 426-593, 594-704, 705-814, 815-870,
 * 871-981, 982-1092, 1093-1258, 1259-1314, above.
 */
export const CHAPMAN_RANGES: readonly { readonly fromC: number; readonly name: string }[] = [
  { fromC: 426, name: 'black red in dull light' },
  { fromC: 594, name: 'very dark red' },
  { fromC: 705, name: 'dark red' },
  { fromC: 815, name: 'cherry red' },
  { fromC: 871, name: 'light cherry red' },
  { fromC: 982, name: 'orange' },
  { fromC: 1093, name: 'yellow' },
  { fromC: 1259, name: 'yellow white' },
  { fromC: 1315, name: 'white' },
]

/** Points, °C. Source: Stirling, A Book of Steam for Engineers (1905). */
export const STIRLING_POINTS: readonly { readonly atC: number; readonly name: string }[] = [
  { atC: 525, name: 'just visible red' },
  { atC: 699, name: 'dull red' },
  { atC: 800, name: 'dull cherry' },
  { atC: 900, name: 'full cherry' },
  { atC: 1000, name: 'clear cherry' },
  { atC: 1100, name: 'deep orange' },
  { atC: 1200, name: 'clear orange' },
  { atC: 1300, name: 'white' },
  { atC: 1400, name: 'bright white' },
  { atC: 1500, name: 'dazzling white' },
]
