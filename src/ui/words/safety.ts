/** One caution: what can hurt, and what to do. Sources are named where a standard is cited. */
export interface Caution {
  readonly id: string
  /** On the first screen, in one line. */
  readonly short: string
  readonly title: string
  readonly lines: readonly string[]
  readonly source?: string
}

/** In the order in which things hurt people: first what burns, last what breaks. */
export const CAUTIONS: readonly Caution[] = [
  {
    id: 'heat',
    short: 'Black metal burns too',
    title: 'Burns and black heat',
    lines: [
      'Not glowing does not mean cold. Metal at 400 °C (750 °F) looks black and takes the skin off.',
      'Treat every piece as hot until you know otherwise. Mark hot pieces and tell the others.',
      'Burnt: cool under running cool water for 20 minutes, then get medical help.',
    ],
    source: 'First glow in the dark near 525 °C (977 °F): Draper 1847. First aid: common practice.',
  },
  {
    id: 'eyes',
    short: 'Shade eyes, do not stare',
    title: 'Eyes and infrared',
    lines: [
      'A glow sends far more infrared than light. Do not stare into it.',
      'Wear eye protection of the right shade, with side shields. Sunglasses are not enough.',
      'Never look into a glow through a lens, a magnifier or an optical viewfinder.',
    ],
    source: 'Common practice; eye and face protection: OSHA 29 CFR 1910.133.',
  },
  {
    id: 'clothing',
    short: 'Cotton, leather, dry gloves',
    title: 'Clothing',
    lines: [
      'Cotton, wool or leather; closed leather shoes; no synthetics, no cuffs, no loose sleeves.',
      'Dry heat-proof gloves. A damp glove turns to steam. No gloves near turning machines.',
    ],
    source: 'Common practice.',
  },
  {
    id: 'fire',
    short: 'Clear 11 m, watch for fire',
    title: 'Fire watch and clear distance',
    lines: [
      'Clear or cover everything that burns within 11 m (35 ft). Mind cracks, ducts and the floor below.',
      'Extinguisher in reach. Somebody watches for fire while you work and afterwards: at least 30 minutes by OSHA, at least 60 minutes by NFPA 51B.',
    ],
    source:
      'OSHA 29 CFR 1910.252(a)(2): clear distance, fire watch; NFPA 51B, 2019 and later: 60 minutes.',
  },
  {
    id: 'mains',
    short: 'Bare elements are live',
    title: 'Mains voltage on open elements',
    lines: [
      'An open heating element on the mains is a bare live wire. Glowing or not, never touch it.',
      'Keep guards on. Earth the case, feed it through a residual-current device.',
      'Isolate, lock off and prove dead before you touch, move or measure at the terminals. Nothing is ever placed on a live element.',
    ],
    source: 'Common practice; electrical work belongs to licensed hands.',
  },
  {
    id: 'fumes',
    short: 'No coatings, fumes out',
    title: 'Fumes',
    lines: [
      'Zinc, cadmium, chrome and lead coatings, paint and oil give off poisonous fumes. Do not heat them; strip them first.',
      'Fires and kilns make carbon monoxide. Work with the door open or an extractor on.',
      'Salts must be dry before they are heated: damp salt spits.',
    ],
    source: 'Common practice.',
  },
  {
    id: 'phone',
    short: 'Phone cool, on a stand',
    title: 'Phone and hands',
    lines: [
      'Keep the phone away from the heat: if it is too warm for your hand, it is too warm for the phone. Lithium cells burn.',
      'Use a stand. Look at the work, not at the screen, whenever something hot moves.',
    ],
    source: 'Common practice.',
  },
  {
    id: 'estimate',
    short: 'No safety instrument',
    title: 'An estimate, no safety instrument',
    lines: [
      'Glowbook estimates. Never use a reading to decide that something is safe to touch, to quench, to pour or to leave.',
      'Local codes, the maker’s instructions and licensed practice come first.',
    ],
  },
]

export const SAFETY_GATE = {
  title: 'Before the first glow',
  lead: 'Glowbook reads heat from a distance. You still stand beside it.',
  accept: 'I have read this',
}
