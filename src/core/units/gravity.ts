/** Standard acceleration of free fall, m/s². Exact by definition (3rd CGPM, 1901; ISO 80000-3). */
export const STANDARD_GRAVITY_MS2 = 9.806_65

/** Ellipsoid and gravity field of WGS84 (NIMA TR8350.2, third edition, tables 3.1 to 3.4). */
const WGS84 = {
  equatorMs2: 9.780_325_335_9,
  k: 0.001_931_852_652_41,
  e2: 0.006_694_379_990_13,
  a: 6_378_137,
  f: 1 / 298.257_223_563,
  m: 0.003_449_786_506_84,
}

/**
 * Normal gravity of WGS84 in m/s² at a geodetic latitude (degrees, −90 to 90) and a height above the ellipsoid (m):
 * Somigliana's closed formula on the ellipsoid, a second-order series upwards (NIMA TR8350.2, equations 4-1 and 4-3).
 * Meant for heights that people work at; the height above sea level does as well (30 m make 1 part in 10⁵).
 */
export function normalGravity(latitudeDeg: number, heightM = 0): number {
  if (!(Math.abs(latitudeDeg) <= 90))
    throw new RangeError(`a latitude is −90 to 90 degrees, got ${latitudeDeg}`)
  if (!Number.isFinite(heightM)) throw new RangeError(`a height is a number of metres, got ${heightM}`)
  const { equatorMs2, k, e2, a, f, m } = WGS84
  const s = Math.sin((latitudeDeg * Math.PI) / 180) ** 2
  const onEllipsoid = (equatorMs2 * (1 + k * s)) / Math.sqrt(1 - e2 * s)
  return onEllipsoid * (1 - (2 * (1 + f + m - 2 * f * s) * heightM) / a + (3 * heightM ** 2) / a ** 2)
}

/** The gravity that turned masses into forces, with the limits between which the true one lies. */
export interface Gravity {
  readonly ms2: number
  readonly halfWidthMs2: number
  readonly from: 'typed' | 'place' | 'unknown'
  /** For people: where the figure comes from. */
  readonly text: string
}

/** Real gravity differs from the normal one by less than this nearly everywhere people live (100 mGal; from memory). */
const ANOMALY_MS2 = 0.001

/** Half of what lies between the equator and the poles at sea level, rounded up for high places. */
const ANYWHERE_MS2 = 0.027

/** Half a unit of the last digit as typed: `9.81` → 0.005. */
export const halfLastDigit = (typed: string): number =>
  0.5 * 10 ** -(typed.trim().split(/[.,]/)[1]?.length ?? 0)

/** Gravity as the user typed it, good to half a unit of its last digit. */
export const typedGravity = (ms2: number, halfWidthMs2: number): Gravity => ({
  ms2,
  halfWidthMs2,
  from: 'typed',
  text: `${ms2} m/s², as typed`,
})

/** Gravity by place. `latitudeHalfWidthDeg` is how well the latitude is known. */
export function gravityAt(latitudeDeg: number, heightM: number, latitudeHalfWidthDeg = 0): Gravity {
  const ms2 = normalGravity(latitudeDeg, heightM)
  const within = (latitude: number) => Math.max(-90, Math.min(90, latitude))
  const byLatitude = Math.max(
    Math.abs(normalGravity(within(latitudeDeg + latitudeHalfWidthDeg), heightM) - ms2),
    Math.abs(normalGravity(within(latitudeDeg - latitudeHalfWidthDeg), heightM) - ms2),
  )
  return {
    ms2,
    halfWidthMs2: ANOMALY_MS2 + byLatitude,
    from: 'place',
    text: `${ms2.toFixed(5)} m/s², normal gravity at latitude ${latitudeDeg}°, height ${heightM} m`,
  }
}

/** Nobody said where the rig stands: standard gravity, with the doubt of being anywhere on Earth. */
export const UNKNOWN_GRAVITY: Gravity = {
  ms2: STANDARD_GRAVITY_MS2,
  halfWidthMs2: ANYWHERE_MS2,
  from: 'unknown',
  text: `${STANDARD_GRAVITY_MS2} m/s² (standard), the place being unknown`,
}
