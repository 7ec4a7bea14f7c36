/** What differences and readings joined with brightness are tried under. */

const SALT = { temperatureK: 1073.6, standardUncertaintyK: 6 }
const COPPER = { temperatureK: 1357.8, standardUncertaintyK: 8 }

/** What a photo's level does beyond the model; nothing where levels are not used. */
export interface LevelScene {
  /** Place of reading and of known heats, over half of the diagonal. */
  readonly readingAt: number
  readonly heatAt: number
  /** One exposure for all photos, or each its own. */
  readonly exposures: 'same' | 'own'
  /** Emissivity of the reading over that of the known heat, drawn as a stated surface would be. */
  readonly surface: 'same' | 'other'
  /** A factor on the reading's level that nobody states. */
  readonly unseen: number
}

const USUAL: LevelScene = {
  readingAt: 0.2,
  heatAt: 0.2,
  exposures: 'same',
  surface: 'same',
  unseen: 1,
}

export interface Row {
  readonly name: string
  readonly heats: readonly (typeof SALT)[]
  /** A curve kept from a sweep: its error in ln(G/R), shared, and each photo's own. */
  readonly curve?: { readonly shared: number; readonly own: number }
  readonly levels?: LevelScene
  readonly held?: 'cardInPicture'
  readonly of: 'difference' | 'reading'
}

export const DIFFERENCES: readonly Row[] = [
  { name: 'difference', heats: [], of: 'difference' },
  { name: 'difference, salt', heats: [SALT], of: 'difference' },
  { name: 'difference, salt and copper', heats: [SALT, COPPER], of: 'difference' },
  {
    name: 'difference, salt and copper, card in picture',
    heats: [SALT, COPPER],
    held: 'cardInPicture',
    of: 'difference',
  },
  {
    name: 'difference, kept curve',
    heats: [SALT],
    curve: { shared: 0.02, own: 0.002 },
    of: 'difference',
  },
  { name: 'difference with brightness', heats: [], levels: USUAL, of: 'difference' },
  { name: 'difference with brightness, salt', heats: [SALT], levels: USUAL, of: 'difference' },
  { name: 'salt, colour alone', heats: [SALT], of: 'reading' },
  { name: 'salt + brightness', heats: [SALT], levels: USUAL, of: 'reading' },
  {
    name: 'salt + brightness, own exposures',
    heats: [SALT],
    levels: { ...USUAL, exposures: 'own' },
    of: 'reading',
  },
  {
    name: 'salt + brightness, at the edge',
    heats: [SALT],
    levels: { ...USUAL, readingAt: 0.8 },
    of: 'reading',
  },
  {
    name: 'salt + brightness, other surface',
    heats: [SALT],
    levels: { ...USUAL, surface: 'other' },
    of: 'reading',
  },
  {
    name: 'salt + brightness, 15 % lost unseen',
    heats: [SALT],
    levels: { ...USUAL, unseen: 0.85 },
    of: 'reading',
  },
  {
    name: 'salt + brightness, half lost unseen',
    heats: [SALT],
    levels: { ...USUAL, unseen: 0.5 },
    of: 'reading',
  },
  {
    name: 'four melts + brightness',
    heats: [
      SALT,
      { temperatureK: 1043.5, standardUncertaintyK: 6 },
      { temperatureK: 1157.9, standardUncertaintyK: 6 },
      { temperatureK: 1342.3, standardUncertaintyK: 6 },
    ],
    levels: USUAL,
    of: 'reading',
  },
]
