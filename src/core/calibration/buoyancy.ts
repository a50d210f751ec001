/** Air at the bench, kg/m³: 1.2 within 10 % from sea level to about 900 m (OIML R 111-1, reference conditions 1.2). */
export const AIR_DENSITY_KGM3 = 1.2

/** Steel as OIML defines conventional mass with it; buoyancy on it makes 0.015 %. */
export const STEEL_DENSITY_KGM3 = 8_000

/** Air density may be off by this share of itself. */
export const AIR_DENSITY_SHARE = 0.1

/**
 * What buoyancy takes from the weight of a mass, as a share: ρ_air/ρ.
 * Corrected by default below 8,000 kg/m³ where the density is known: F = m g (1 − ρ_air/ρ). A weight marked with its
 * conventional mass is taken as its true mass here; for metals the two differ by less than 2 parts in 10⁵.
 */
export const buoyantShare = (densityKgM3: number, airKgM3 = AIR_DENSITY_KGM3): number => airKgM3 / densityKgM3

/** Half-width, as a share of the force, of what is left when nothing was corrected and the density is not told. */
export const UNCORRECTED_SHARE = AIR_DENSITY_KGM3 / STEEL_DENSITY_KGM3
