// Tungsten, published values. All recalled from memory, not looked up; the check beside each table
// says what supports it.

/**
 * Electrical resistivity of tungsten, [K, micro-ohm cm].
 * Source: CRC Handbook of Chemistry and Physics, after Jones & Langmuir 1927 (Gen. Electr. Rev. 30);
 * from memory. Divided by the 300 K value it gives the R/R300 column that the handbook prints
 * beside it, to every printed digit. Thermal expansion is contained (the ratio is one of
 * resistances of a wire).
 */
export const TUNGSTEN_RESISTIVITY: readonly (readonly [number, number])[] = [
  [300, 5.65], [400, 8.06], [500, 10.56], [600, 13.23], [700, 16.09], [800, 19.0], [900, 21.94],
  [1000, 24.93], [1100, 27.94], [1200, 30.98], [1300, 34.08], [1400, 37.19], [1500, 40.36],
  [1600, 43.55], [1700, 46.78], [1800, 50.05], [1900, 53.35], [2000, 56.67], [2100, 60.06],
  [2200, 63.48], [2300, 66.91], [2400, 70.39], [2500, 73.91], [2600, 77.49], [2700, 81.04],
  [2800, 84.7], [2900, 88.33], [3000, 92.04], [3100, 95.76], [3200, 99.54], [3300, 103.3],
  [3400, 107.2], [3500, 111.1], [3600, 115.0],
]

/**
 * Spectral emissivity of clean, flat, recrystallised tungsten, normal to the surface, as a straight
 * line in wavelength between two anchors, each a straight line in temperature.
 * Source: Forsythe & Worthing 1925 (Astrophys. J. 61, 146), from memory: 0.469 at 0.467 um and
 * 0.435 at 0.665 um at 2000 K; 0.455 at 1000 K and 0.415 at 3000 K at 0.665 um; 0.485 and 0.453 at
 * 0.467 um.
 */
export const TUNGSTEN_EMISSIVITY_ANCHORS = [
  { wavelengthNm: 467, at2000K: 0.469, perKelvin: -1.6e-5 },
  { wavelengthNm: 665, at2000K: 0.435, perKelvin: -2.0e-5 },
] as const

/**
 * Total hemispherical emissivity of tungsten, [K, emissivity].
 * Source: Forsythe & Worthing 1925 with Jones & Langmuir 1927 below 1000 K, from memory, +-0.01.
 */
export const TUNGSTEN_TOTAL_EMISSIVITY: readonly (readonly [number, number])[] = [
  [300, 0.024], [500, 0.042], [1000, 0.11], [1500, 0.192], [2000, 0.26], [2500, 0.303],
  [3000, 0.334], [3500, 0.351],
]
