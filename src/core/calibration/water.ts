/**
 * Density of air-free water in kg/m³ at 101,325 Pa, 0 to 40 °C: Tanaka, Girard, Davis, Peuto and Bignell 2001,
 * Metrologia 38:301 (recommended by the CIPM); its own doubt is below 0.001 kg/m³. Throws outside 0 to 40 °C.
 */
export function waterDensityKgM3(temperatureC: number): number {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    throw new RangeError(`the density of water is known here from 0 to 40 °C, got ${temperatureC}`)
  const t = temperatureC
  return 999.974_95 * (1 - ((t - 3.983_035) ** 2 * (t + 301.797)) / (522_528.9 * (t + 69.348_81)))
}

/** What salts dissolved in tap water may add, kg/m³ (half a gram a litre and less; common practice, no source). */
export const TAP_WATER_HALF_WIDTH_KGM3 = 0.5
