/** What a specimen may do when it is pulled, beside coming apart. */
export const HAZARDS = ['flies', 'bursts', 'sprays', 'ignites', 'cuts', 'dust', 'long-stroke'] as const
export type Hazard = (typeof HAZARDS)[number]

/** What it is, in words for a list, and the caution for it (common practice, no source). */
export const HAZARD_CARE: Readonly<Record<Hazard, { readonly what: string; readonly care: string }>> = {
  flies: {
    what: 'stretches far, or is stiff and brittle: it flies when it breaks',
    care: 'Much energy is stored before the break: put a cover over the specimen and both grips. Keep face and hands out of the line of pull until the force is gone.',
  },
  bursts: {
    what: 'holds gas or pressure',
    care: 'What is under pressure can burst: let the pressure off first, or pull it behind a closed guard, and follow the local rules.',
  },
  sprays: {
    what: 'holds a liquid, or was glued, oiled or soaked',
    care: 'Liquid can spray: wear closed goggles, put a tray under it and keep it off the cell, the converter and the mains.',
  },
  ignites: {
    what: 'can burn, or is a battery',
    care: 'It can ignite: pull it away from all that burns, with what puts out this very fire within reach, and never a battery indoors.',
  },
  cuts: {
    what: 'leaves sharp edges or ends: wire, sheet, glass',
    care: 'Ends and edges are sharp: wear gloves when you take the pieces out.',
  },
  dust: {
    what: 'breaks into fibres or dust',
    care: 'Fibres and dust fly: wear a mask that fits, and wipe up wet.',
  },
  'long-stroke': {
    what: 'needs more stroke than the rig has',
    care: 'You will back off and grip again: let all force off before your hands go near the grips, each time.',
  },
}

const WORDS: readonly (readonly [Exclude<Hazard, 'long-stroke'>, RegExp])[] = [
  [
    'flies',
    /elastic|rubber|bungee|spring|ropes?\b|cords?\b|cables?\b|wires?\b|chain|strap|webbing|glass|ceramic|carbon|print(ed)? part|acrylic/,
  ],
  ['bursts', /balloon|inflat|tyres?\b|tires?\b|hoses?\b|pressur|airbag|pneumatic|gas\b/],
  ['sprays', /liquid|water|oil|fluid|juice|bottle|pouch|sachet|hydraulic|soaked|wet\b/],
  ['ignites', /batter(y|ies)|lithium|fuel|petrol|solvent|match(es)?\b|lighter|firework|magnesium/],
  ['cuts', /wires?\b|sheet metal|tin\b|can\b|glass|blade|steel|alumini?um|metal/],
  ['dust', /glass fib|fibreglass|fiberglass|carbon|plaster|gypsum|concrete|ceramic|mineral wool/],
]

/**
 * What the words of a study suggest that its specimens may do, and what a stroke too short for them brings
 * with it. Only a suggestion: the person at the bench knows.
 */
export const suggestedHazards = (words: string, isStrokeShort = false): Hazard[] => {
  const text = words.toLowerCase()
  const byWords = WORDS.filter(([, pattern]) => pattern.test(text)).map(([hazard]) => hazard)
  return isStrokeShort ? [...byWords, 'long-stroke'] : byWords
}
