import { type ReactNode, useId } from 'react'
import type { Rig } from '../../../server/apiTypes.ts'
import { FigureInput } from '../../parts/FigureInput.tsx'
import { aboveZeroOrNull, betweenOrNull, wholeOrNull } from '../../parts/typed.ts'
import { texts } from '../../texts/index.ts'
import type { RigChange } from '../useRigChange.ts'
import { FIGURES, FIGURES_OF, type Figure, figureIn, type Link, withFigure } from './links.ts'

const t = texts.rig

const READ = {
  'above-0': aboveZeroOrNull,
  whole: wholeOrNull,
  latitude: betweenOrNull(-90, 90),
  height: betweenOrNull(-500, 9000),
} as const

/** What a link asks for, in a small form; each field is kept when it is left. */
export function LinkForm({
  link,
  rig,
  change,
  children,
}: {
  link: Link
  rig: Rig
  change: RigChange['change']
  children?: ReactNode
}) {
  const id = useId()
  const hasLatitude = figureIn(rig.document, 'latitudeDeg') !== null
  // A height alone says nothing of the gravity.
  const figures = FIGURES_OF[link].filter(figure => figure !== 'heightM' || hasLatitude)
  return (
    <section className="rig-form" aria-labelledby={id}>
      <h2 id={id}>{t.links[link]}</h2>
      <p className="pencil">{t.linkWhat[link]}</p>
      <div className="rig-fields">
        {figures.map((figure: Figure) => (
          <div key={figure} className="field">
            <label htmlFor={`${id}-${figure}`}>{t.figures[figure]}</label>
            <FigureInput
              id={`${id}-${figure}`}
              value={figureIn(rig.document, figure)}
              read={READ[FIGURES[figure].kind]}
              fault={t.figureFaults[FIGURES[figure].kind]}
              onFigure={value =>
                void change(
                  rig,
                  now => ({ document: withFigure(now.document, figure, value) }),
                  t.didFigure(t.figures[figure]),
                )
              }
            />
          </div>
        ))}
      </div>
      {children}
    </section>
  )
}
