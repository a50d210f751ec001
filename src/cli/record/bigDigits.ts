/** Figures five rows high, drawn by us: `#` is ink. Each dot is two characters wide, since characters are tall. */
const ROWS = 5
const SHAPES: Readonly<Record<string, readonly string[]>> = {
  '0': [' ## ', '#  #', '#  #', '#  #', ' ## '],
  '1': ['  # ', ' ## ', '  # ', '  # ', ' ###'],
  '2': ['### ', '   #', ' ## ', '#   ', '####'],
  '3': ['### ', '   #', ' ## ', '   #', '### '],
  '4': ['#  #', '#  #', '####', '   #', '   #'],
  '5': ['####', '#   ', '### ', '   #', '### '],
  '6': [' ## ', '#   ', '### ', '#  #', ' ## '],
  '7': ['####', '   #', '  # ', ' #  ', ' #  '],
  '8': [' ## ', '#  #', ' ## ', '#  #', ' ## '],
  '9': [' ## ', '#  #', ' ###', '   #', ' ## '],
  '.': [' ', ' ', ' ', ' ', '#'],
  '−': ['   ', '   ', '###', '   ', '   '],
  ' ': ['  ', '  ', '  ', '  ', '  '],
}

/** A number as rows of blocks, readable across a room. What has no shape is left out. */
export function bigDigits(text: string): string[] {
  const shapes = Array.from(text).flatMap(sign => (SHAPES[sign] ? [SHAPES[sign]] : []))
  return Array.from({ length: ROWS }, (_, row) =>
    shapes
      .map(shape => shape[row]!.replaceAll('#', '██').replaceAll(' ', '  '))
      .join('  ')
      .trimEnd(),
  )
}
