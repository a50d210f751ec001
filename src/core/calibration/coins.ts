/**
 * Masses of new coins in grams, as their issuers lay them down: euro, Council Regulation (EU) No 729/2014, annex I (the figures
 * of Regulation (EC) No 975/98 as amended). Worn or dirty coins differ; the tolerance of striking is not published there.
 */
export const COIN_GRAMS: Readonly<Record<string, number>> = {
  '1 cent': 2.3,
  '2 cent': 3.06,
  '5 cent': 3.92,
  '10 cent': 4.1,
  '20 cent': 5.74,
  '50 cent': 7.8,
  '1 euro': 7.5,
  '2 euro': 8.5,
}

/** Limits ± as a share of a new coin's mass. Common practice, no source; all coins may lean the same way. */
export const COIN_SHARE = 0.02
