import { expose } from 'comlink'
import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import { withFonts } from '../../../publish/figure/embedFonts.ts'
import { FIGURES } from '../../../publish/figure/figureNames.ts'
import { LOOKS } from '../../../publish/figure/look.ts'
import { SHAPES } from '../../../publish/figure/shape.ts'
import { hasCurve, studyFigure } from '../../../publish/figure/studyFigure.ts'
import { PackageFault } from '../../../publish/package/files.ts'
import { licenceOf } from '../../../publish/package/licences.ts'
import { packageFiles, packageLength } from '../../../publish/package/packageFiles.ts'
import { answerPageOf } from '../../../publish/report/answer.ts'
import { reportHtml } from '../../../publish/report/html.ts'
import { reportOf } from '../../../publish/report/report.ts'
import type { PublishedStudy } from '../../../publish/study/study.ts'
import { problemsOf } from '../../data/trouble.ts'
import { sha256Hex } from '../../engine/sha256.ts'
import type { Answer } from '../../engine/types.ts'
import {
  captionText,
  filmFacts,
  overlay,
  overlayPictures,
  syncByHand,
  syncBySound,
  walk,
  walkFilm,
} from './clips.ts'
import { markdownZip, walkZip, zipped } from './files.ts'
import { fontFaces } from './fonts.ts'
import type { TellSource } from './gather.ts'
import { keepStudy } from './keepStudy.ts'
import type { Contents, OnProgress, Telling, Told } from './types.ts'

/** Tells studies in this thread; what belongs to them is fetched from `source`. */
export function serveTelling(source: TellSource): void {
  const studyOf = keepStudy(source)
  const about = <T>(told: Told, work: (study: PublishedStudy) => Promise<Outcome<T>>): Promise<Answer<T>> =>
    answered(async () => {
      const study = await studyOf(told)
      return study.ok ? work(study.value) : study
    })

  const telling: Telling = {
    contents: told => about(told, async study => fine(contentsOf(study))),
    report: (told, look) =>
      about(told, async study => fine(await reportHtml(reportOf(study), { look, fontFaces: fontFaces() }))),
    answerPage: (told, look) =>
      about(told, async study =>
        fine(await reportHtml(answerPageOf(study), { look, fontFaces: fontFaces() })),
      ),
    markdown: (told, toPng, onProgress) =>
      about(told, async study => fine(await markdownZip(study, toPng, onProgress))),
    figure: (told, { what, look, shape, specimen }) =>
      about(told, async study => {
        const svg = studyFigure(study, what, { look: LOOKS[look], shape: SHAPES[shape], specimen })
        return svg.ok ? fine(withFonts(svg.value, fontFaces())) : svg
      }),
    dataPackage: (told, asked, onProgress) => about(told, study => packageZip(study, asked, onProgress)),
    sync: (told, name, sound) => about(told, study => syncBySound(study, name, sound)),
    placed: (told, specimen, film) => about(told, async study => syncByHand(study, specimen, film)),
    film: (file, name) => answered(() => filmFacts(file, name)),
    captions: (told, sync, asked) => about(told, async study => captionText(study, sync, asked)),
    overlay: (told, sync, asked, film, onProgress) =>
      about(told, study => overlay(study, sync, { asked, film }, onProgress)),
    overlayPictures: (told, sync, asked, film, onProgress) =>
      about(told, study => overlayPictures(study, sync, { asked, film }, onProgress)),
    walkClip: (told, asked, onProgress) => about(told, study => walkFilm(study, asked, onProgress)),
    walkPictures: (told, asked, toPng, onProgress) =>
      about(told, async study => {
        const steps = walk(study, asked.specimen)
        return steps.ok
          ? fine(await walkZip(steps.value, asked, { toPng, onProgress, madeAt: study.madeAt }))
          : steps
      }),
  }
  expose(telling)
}

/** A fault inside becomes an answer too: a thread that died in silence would leave the page waiting. */
async function answered<T>(work: () => Promise<Outcome<T>>): Promise<Answer<T>> {
  try {
    return await work()
  } catch (error) {
    return error instanceof PackageFault ? wrong(error.problem) : { ok: false, problems: problemsOf(error) }
  }
}

const contentsOf = (study: PublishedStudy): Contents => ({
  specimens: study.specimens.filter(hasCurve).map(({ name, recording }) => ({
    name,
    lengthS: (recording.timeS.at(-1) ?? 0) - (recording.timeS[0] ?? 0),
  })),
  figures: FIGURES.filter(what => studyFigure(study, what).ok),
  hasPeople:
    study.specimens.some(one => one.operator !== '' || one.remarks.some(remark => remark.operator !== '')) ||
    study.remarks.some(remark => remark.operator !== ''),
})

async function packageZip(
  study: PublishedStudy,
  { licence: word, author }: { readonly licence: string; readonly author: string },
  onProgress: OnProgress,
): Promise<Outcome<Blob>> {
  const licence = licenceOf(word)
  if (!licence.ok) return licence
  const options = {
    licence: licence.value,
    authors: author.trim() === '' ? [] : [author.trim()],
    sha256: async (bytes: Uint8Array) => sha256Hex(bytes),
  }
  const all = packageLength(study, options)
  async function* counted() {
    let done = 0
    for await (const file of packageFiles(study, options)) {
      yield file
      onProgress(++done, all)
    }
  }
  return fine(await zipped(counted(), study.madeAt))
}
