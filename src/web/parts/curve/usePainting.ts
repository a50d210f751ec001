import { type RefObject, useEffect, useReducer, useState } from 'react'
import { Painter } from './painter.ts'
import { Slices } from './slices.ts'

/**
 * The slices and the painter of a curve, made anew with its colours. The component is drawn again, at most once a
 * frame, whenever a slice has come.
 */
export function usePainting(
  canvas: RefObject<HTMLCanvasElement | null>,
  colourOf: (colour: string) => string,
): { readonly slices: Slices | null; readonly painter: Painter | null } {
  const [, redraw] = useReducer((n: number) => n + 1, 0)
  const [made, setMade] = useState<{ readonly slices: Slices; readonly painter: Painter } | null>(null)
  useEffect(() => {
    let frame = 0
    const soon = () => {
      if (frame !== 0) return
      frame = requestAnimationFrame(() => {
        frame = 0
        redraw()
      })
    }
    const slices = new Slices(soon)
    const painter = canvas.current && new Painter(canvas.current, colourOf)
    if (painter) setMade({ slices, painter })
    return () => {
      slices.end()
      painter?.end()
      cancelAnimationFrame(frame)
    }
  }, [canvas, colourOf])
  return made ?? NOT_YET
}

const NOT_YET = { slices: null, painter: null }
