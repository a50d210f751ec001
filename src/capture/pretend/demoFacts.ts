/** What is told of the invented study beside its logs. */
export const DEMO = {
  title: 'Carrier-bag handles (an invented study)',
  question: 'Which of three ways to fix a twisted-paper handle to a carrier bag holds best?',
  method:
    'Every handle was glued or sewn to a patch of the same paper, 90 mm wide, and left for a day. The patch was held in the lower grip over its whole width, the handle hung over a smooth bar. A hand-turned nut pulled at about half a millimetre a second. All of it is made up, to show what a study looks like.',
  /** For the random numbers of its pulls: the same study every time. */
  seed: 20_260_501,
  failureModes: ['dots let go', 'paste peeled', 'stitches broke, then the hem tape', 'bag tore'],
  plannedPerVariant: 5,
  equivalents: [
    { name: 'full 1-litre milk carton', plural: 'full 1-litre milk cartons', massKg: 1.07 },
    { name: 'house brick', plural: 'house bricks', massKg: 2.3 },
  ],
  logUnit: 'kgf',
  rigName: 'Hand-turned bench (invented)',
  calibratedOn: '2026-04-27',
  /** The day on which its rig was checked. */
  checkedOn: '2026-05-01',
} as const
