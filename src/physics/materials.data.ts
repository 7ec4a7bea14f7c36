import { kelvinFromCelsius } from './units.ts'
import type { Material, SourcedValue, SpectralPoint, TotalPoint } from './materials.ts'

// Surfaces that glow in a workshop. Every number names its source. Sources, in full:
const RW = 'Roeser & Wensel 1941, spectral emissivity at 0.65 um, from memory'
const AIP = 'American Institute of Physics, Temperature, 1941, total emissivity, from memory'
const BW = 'Burgess & Waltenberg 1915 (Bull. Bur. Stand. 11), from memory'
const FW = 'Forsythe & Worthing 1925, from memory'
const CRC = 'CRC Handbook of Chemistry and Physics'
const PRACTICE = 'common practice'
const GREY = 'no slope is known: taken as grey'

const c = kelvinFromCelsius

/** Red value as published; green taken equal, because no slope is known. */
const grey = (value: number, standardUncertainty: number, source: string): SpectralPoint[] => [
  { wavelengthNm: 550, value, standardUncertainty, source: `${source}; ${GREY}` },
  { wavelengthNm: 650, value, standardUncertainty, source },
]
const total = (
  source: string,
  standardUncertainty: number,
  ...rows: readonly (readonly [celsius: number, value: number])[]
): TotalPoint[] =>
  rows.map(([celsius, value]) => ({
    temperatureK: c(celsius), value, standardUncertainty, source,
  }))
/** Oxidised metals: 3 % between green and red, about 10 to 15 K at 900 °C. */
const NO_SLOPE: SourcedValue = { value: 0, standardUncertainty: 0.03, source: `${GREY}; ${PRACTICE}` }
const slopeUnknown = (standardUncertainty: number, source: string): SourcedValue => ({
  value: 0, standardUncertainty, source: `no slope assumed; the spread covers ${source}`,
})

// Spreads of oxides: half of the range that Roeser & Wensel observed (iron oxide 0.63 to 0.98,
// nickel oxide 0.85 to 0.96, copper oxide 0.60 to 0.80, porcelain 0.25 to 0.50), as a rectangle,
// where they give one; else 0.06.
export const MATERIALS: readonly Material[] = [
  {
    id: 'steel-oxidised',
    name: 'Steel, oxidised (black scale)',
    spectral: grey(0.8, 0.1, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(`${AIP} (iron)`, 0.05, [500, 0.84], [1200, 0.89]),
    // Solidus of a 1.2 % carbon steel to the melting point of iron.
    melting: { solidusK: c(1370), liquidusK: c(1538), source: `${PRACTICE}; iron ${CRC}` },
    service: { temperatureK: c(540), atmosphere: 'air', source: `${PRACTICE}: carbon steel scales fast above` },
    steelClasses: ['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'],
    effects: ['colour neutral', 'loose scale reads cold', 'fire light adds'],
    hazards: ['coatings'],
  },
  {
    id: 'steel-clean',
    name: 'Steel, clean bright metal',
    spectral: grey(0.35, 0.04, RW),
    logEmissivityRatioGreenRed: slopeUnknown(0.1, 'clean iron and its neighbours nickel and platinum'),
    total: total(`${AIP} (iron, polished)`, 0.06, [427, 0.14], [1027, 0.38]),
    melting: { solidusK: c(1370), liquidusK: c(1538), source: `${PRACTICE}; iron ${CRC}` },
    service: { temperatureK: c(540), atmosphere: 'air', source: `${PRACTICE}: carbon steel scales fast above` },
    steelClasses: ['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'],
    effects: ['colour reads hot slope unknown', 'oxide changes', 'bright surface mirrors'],
    hazards: ['coatings'],
  },
  {
    id: 'stainless-oxidised',
    name: 'Stainless steel 18-8, oxidised',
    spectral: grey(0.85, 0.06, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(PRACTICE, 0.06, [800, 0.85]),
    melting: { solidusK: c(1400), liquidusK: c(1455), source: `${PRACTICE} (AISI 304)` },
    service: { temperatureK: c(925), atmosphere: 'air', source: `${PRACTICE} (AISI 304, continuous)` },
    effects: ['colour neutral', 'loose scale reads cold', 'fire light adds'],
    hazards: ['coatings'],
  },
  {
    id: 'cast-iron-oxidised',
    name: 'Cast iron, oxidised',
    spectral: grey(0.7, 0.1, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(AIP, 0.05, [199, 0.64], [593, 0.78]),
    melting: { solidusK: c(1147), liquidusK: c(1250), source: `iron-carbon eutectic ${CRC}; ${PRACTICE}` },
    service: { temperatureK: c(480), atmosphere: 'air', source: `${PRACTICE}: grey iron grows above` },
    steelClasses: ['high-carbon', 'unknown'],
    effects: ['colour neutral', 'loose scale reads cold', 'fire light adds'],
    hazards: ['coatings'],
  },
  {
    id: 'fecral-oxidised',
    name: 'Iron-chromium-aluminium heating wire, oxidised',
    // 0.78 is for 55Fe-37.5Cr-7.5Al, 0.75 for 70Fe-23Cr-5Al-2Co of the same authors.
    spectral: grey(0.78, 0.06, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(`${PRACTICE} in element design`, 0.06, [1000, 0.7]),
    melting: { solidusK: c(1480), liquidusK: c(1520), source: `${PRACTICE}: about 1500 °C` },
    // By grade 1250 to 1400 °C; the highest grade, so that a good wire is not called overheated.
    service: { temperatureK: c(1400), atmosphere: 'air', source: `${PRACTICE}: 1250 to 1400 °C by grade` },
    effects: ['colour neutral', 'transparent skin', 'coil inside brighter'],
    hazards: ['live parts'],
  },
  {
    id: 'nickel-chromium-oxidised',
    name: 'Nickel-chromium 80/20 heating wire, oxidised',
    spectral: grey(0.9, 0.03, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(AIP, 0.03, [600, 0.87], [1300, 0.89]),
    melting: { solidusK: c(1380), liquidusK: c(1420), source: `${PRACTICE}: about 1400 °C` },
    service: { temperatureK: c(1200), atmosphere: 'air', source: PRACTICE },
    effects: ['colour neutral', 'coil inside brighter'],
    hazards: ['live parts'],
  },
  {
    id: 'nickel-chromium-iron-oxidised',
    name: 'Nickel-chromium-iron 60/16 heating wire, oxidised',
    spectral: grey(0.83, 0.06, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(PRACTICE, 0.05, [800, 0.88]),
    melting: { solidusK: c(1370), liquidusK: c(1410), source: `${PRACTICE}: about 1390 °C` },
    service: { temperatureK: c(1120), atmosphere: 'air', source: PRACTICE },
    effects: ['colour neutral', 'coil inside brighter'],
    hazards: ['live parts'],
  },
  {
    id: 'nickel-oxidised',
    name: 'Nickel, oxidised',
    spectral: grey(0.9, 0.03, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(`${AIP} (nickel oxide)`, 0.05, [649, 0.59], [1254, 0.86]),
    melting: { solidusK: c(1455), liquidusK: c(1455), source: CRC },
    effects: ['colour neutral'],
    hazards: ['coatings'],
  },
  {
    id: 'copper-oxidised',
    name: 'Copper, oxidised (black)',
    spectral: grey(0.7, 0.06, RW),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(`${AIP} (copper oxide)`, 0.05, [800, 0.66], [1100, 0.54]),
    // Under its own oxide copper begins to melt at the oxygen eutectic.
    melting: { solidusK: c(1065), liquidusK: c(1084.62), source: 'oxygen eutectic from memory; ITS-90' },
    effects: ['colour neutral', 'loose scale reads cold', 'fire light adds'],
    hazards: ['coatings'],
  },
  {
    id: 'tungsten-bare',
    name: 'Tungsten, bare (lamp filament)',
    // At 2000 K, from the model in tungsten.ts, which also has the dependence on temperature.
    spectral: [
      { wavelengthNm: 467, value: 0.469, standardUncertainty: 0.01, source: FW },
      { wavelengthNm: 550, value: 0.455, standardUncertainty: 0.01, source: `${FW}, on the line between` },
      { wavelengthNm: 650, value: 0.438, standardUncertainty: 0.01, source: `${FW}, on the line between` },
      { wavelengthNm: 665, value: 0.435, standardUncertainty: 0.01, source: FW },
    ],
    logEmissivityRatioGreenRed: { value: 0.038, standardUncertainty: 0.01, source: `${FW}, at 2000 K` },
    total: total(FW, 0.01, [1226.85, 0.192], [1726.85, 0.26], [2226.85, 0.303], [2726.85, 0.334]),
    melting: { solidusK: 3695, liquidusK: 3695, source: CRC },
    service: { temperatureK: 3200, atmosphere: 'vacuum or inert', source: `${PRACTICE}: short-lived lamps; burns in air` },
    effects: ['colour reads hot', 'coil inside brighter'],
    hazards: ['hot glass', 'live parts'],
  },
  {
    id: 'ceramic',
    name: 'Firebrick or ceramic',
    // Porcelain 0.25 to 0.50; fireclay is darker. Wide on purpose: by colour it does not matter.
    spectral: grey(0.5, 0.14, `${RW} (porcelain), widened for fireclay by ${PRACTICE}`),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total('Incropera & DeWitt, fireclay brick at 1200 K, from memory', 0.1, [927, 0.75]),
    service: { temperatureK: c(1500), atmosphere: 'air', source: `${PRACTICE}: 1260 to 1500 °C by grade` },
    effects: ['colour neutral', 'fire light adds'],
    hazards: ['kiln'],
  },
  {
    id: 'cavity',
    name: 'Drilled hole or closed kiln',
    // A hole five times as deep as wide in an oxidised metal is black within 0.02.
    spectral: grey(0.98, 0.015, `${PRACTICE}: hole at least 5 times as deep as wide`),
    logEmissivityRatioGreenRed: { value: 0, standardUncertainty: 0.005, source: 'black within 0.02' },
    total: total(PRACTICE, 0.015, [1000, 0.98]),
    effects: ['cavity is black'],
    hazards: ['kiln'],
  },
  {
    id: 'grey-body',
    name: 'Something else, taken as grey',
    spectral: grey(0.8, 0.12, `${PRACTICE}: rough or oxidised surfaces`),
    logEmissivityRatioGreenRed: NO_SLOPE,
    total: total(PRACTICE, 0.12, [1000, 0.8]),
    effects: ['colour neutral', 'fire light adds'],
    hazards: ['live parts', 'coatings'],
  },
  {
    id: 'nickel-clean',
    name: 'Nickel, clean bright metal',
    spectral: grey(0.36, 0.04, RW),
    logEmissivityRatioGreenRed: slopeUnknown(0.2, `0.44 in green over 0.36 in red (${BW})`),
    total: total(`${AIP} (wire)`, 0.02, [187, 0.096], [1007, 0.186]),
    melting: { solidusK: c(1455), liquidusK: c(1455), source: CRC },
    effects: ['colour reads hot slope unknown', 'oxide changes', 'bright surface mirrors'],
    hazards: ['coatings'],
  },
  {
    id: 'platinum-clean',
    name: 'Platinum, clean bright metal',
    spectral: grey(0.3, 0.03, RW),
    logEmissivityRatioGreenRed: slopeUnknown(0.14, `0.38 in green over 0.33 in red (${BW})`),
    total: total(AIP, 0.02, [600, 0.104], [1377, 0.192]),
    melting: { solidusK: c(1768.2), liquidusK: c(1768.2), source: CRC },
    effects: ['colour reads hot slope unknown', 'bright surface mirrors'],
    hazards: ['live parts'],
  },
  {
    id: 'copper-clean',
    name: 'Copper, clean bright metal',
    spectral: [
      { wavelengthNm: 550, value: 0.38, standardUncertainty: 0.06, source: BW },
      { wavelengthNm: 650, value: 0.1, standardUncertainty: 0.02, source: RW },
    ],
    logEmissivityRatioGreenRed: slopeUnknown(1.3, `0.38 in green over 0.10 in red (${BW})`),
    total: [],
    melting: { solidusK: c(1084.62), liquidusK: c(1084.62), source: 'ITS-90' },
    effects: ['colour unusable', 'oxide changes', 'bright surface mirrors'],
    hazards: ['coatings', 'melt'],
  },
  {
    id: 'silver-clean',
    name: 'Silver, clean bright metal',
    spectral: grey(0.07, 0.02, RW),
    logEmissivityRatioGreenRed: slopeUnknown(0.8, `less than 0.35 in green over 0.04 to 0.07 in red (${BW})`),
    total: total(`${AIP} (polished)`, 0.01, [227, 0.0198], [627, 0.0324]),
    melting: { solidusK: c(951), liquidusK: c(961.78), source: 'oxygen eutectic from memory; ITS-90' },
    effects: ['colour unusable', 'bright surface mirrors'],
    hazards: ['melt'],
  },
  {
    id: 'gold-clean',
    name: 'Gold, clean bright metal',
    spectral: [
      { wavelengthNm: 550, value: 0.38, standardUncertainty: 0.06, source: BW },
      { wavelengthNm: 650, value: 0.14, standardUncertainty: 0.02, source: RW },
    ],
    logEmissivityRatioGreenRed: slopeUnknown(1.0, `0.38 in green over 0.14 in red (${BW})`),
    total: total(`${AIP} (polished)`, 0.01, [227, 0.018], [627, 0.035]),
    melting: { solidusK: c(1064.18), liquidusK: c(1064.18), source: 'ITS-90' },
    effects: ['colour unusable', 'bright surface mirrors'],
    hazards: ['melt'],
  },
]
