/** Standard acceleration of free fall, m/s². Exact by definition (3rd CGPM, 1901; ISO 80000-3). */
export const STANDARD_GRAVITY_MS2 = 9.806_65
