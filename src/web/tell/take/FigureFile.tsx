import { useEffect, useState } from 'react'
import type { FigureName } from '../../../publish/figure/figureNames.ts'
import { LOOKS, type LookName } from '../../../publish/figure/look.ts'
import { SHAPE_NAMES, SHAPES, type ShapeName } from '../../../publish/figure/shape.ts'
import { got } from '../../data/trouble.ts'
import { Answered } from '../../parts/Answered.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { saveFile } from '../saveFile.ts'
import { TaskButton, TaskTrouble } from '../task.tsx'
import { useTold } from '../told.tsx'
import { toPng } from '../toPng.ts'
import { useMade } from '../useMade.ts'
import type { Contents } from '../worker/types.ts'
import { fileName } from './fileName.ts'
import { Pick } from './Pick.tsx'

const t = texts.tell
const LOOK_NAMES = Object.keys(LOOKS) as LookName[]

const isOfOne = (what: FigureName): boolean => what === 'pull' || what === 'variant'

/** One figure in the look and the shape of the place that it is for. */
export function FigureFile({ contents }: { contents: Contents }) {
  const { told } = useTold()
  const [picked, setPicked] = useState<FigureName>('answer')
  const [look, setLook] = useState<LookName>('light')
  const [shape, setShape] = useState<ShapeName>('wide')
  const [specimen, setSpecimen] = useState<string | null>(null)
  const what = contents.figures.includes(picked) ? picked : (contents.figures[0] ?? picked)
  const asked = { what, look, shape, specimen: isOfOne(what) ? specimen : null }
  const { data: svg, error } = useMade(JSON.stringify(asked), async (telling, told) =>
    got(await telling.figure(told, asked)),
  )
  const names = contents.specimens.map(({ name }) => name)
  const name = (ending: string) => fileName(told, `-${what}${ending}`)
  return (
    <Answered heading={t.figure} answer="" level={3}>
      <div className="row">
        <Pick
          label={t.whichFigure}
          value={what}
          from={contents.figures}
          words={t.figures}
          onPick={setPicked}
        />
        {isOfOne(what) && (
          <Pick
            label={t.specimen}
            value={specimen ?? names[0] ?? ''}
            from={names}
            words={Object.fromEntries(names.map(one => [one, one]))}
            onPick={setSpecimen}
          />
        )}
        <Pick label={t.shape} value={shape} from={SHAPE_NAMES} words={t.shapes} onPick={setShape} />
        <Pick label={t.look} value={look} from={LOOK_NAMES} words={t.looks} onPick={setLook} />
      </div>
      <Problems error={error} />
      {/* The room is kept while a figure is drawn, so that no button below moves from under a finger. */}
      <div className="tell-drawn-room" style={{ aspectRatio: roomOf(shape) }}>
        {svg !== undefined && <Drawn svg={svg} shape={shape} />}
      </div>
      <div className="row">
        <TaskButton
          name="figure-svg"
          disabled={svg === undefined}
          work={async () => {
            if (svg !== undefined) saveFile(name('.svg'), new Blob([svg], { type: 'image/svg+xml' }))
          }}
        >
          {t.saveSvg}
        </TaskButton>
        <TaskButton
          name="figure-png"
          disabled={svg === undefined}
          work={async () => {
            if (svg === undefined) return
            const png = await toPng(svg, SHAPES[shape].pngScale)
            saveFile(name('.png'), new Blob([png.slice()], { type: 'image/png' }))
          }}
        >
          {t.savePng}
        </TaskButton>
      </div>
      <TaskTrouble of="figure-" />
    </Answered>
  )
}

/** Width over height; a figure as high as it likes is given what one reading takes. */
const roomOf = (shape: ShapeName): string => {
  const { width, height } = SHAPES[shape]
  return `${width} / ${height ?? (2 / 3) * width}`
}

/** The very file, as a picture. Its own words for those who do not see it are inside; here they stand beside. */
function Drawn({ svg, shape }: { svg: string; shape: ShapeName }) {
  const [address, setAddress] = useState<string | null>(null)
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
    setAddress(made)
    return () => URL.revokeObjectURL(made)
  }, [svg])
  return address === null ? null : (
    <img className="tell-drawn" data-shape={shape} src={address} alt={titleOf(svg)} />
  )
}

/** The figure's own title; its writer puts signs that XML needs as their codes. */
const titleOf = (svg: string): string =>
  (/<title>([^<]*)<\/title>/.exec(svg)?.[1] ?? '').replace(/&#(\d+);/g, (_, code: string) =>
    String.fromCodePoint(Number(code)),
  ) || t.figureAlt
