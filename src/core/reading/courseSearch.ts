import { type Course, type CourseInput, CourseModel } from './course.ts'
import type { WeighedCourses } from './weighedCourses.ts'

/** Instants tried between two samples that are points, or where a cascade begins, there in so many periods at most. */
const POINTS = 8
const MOST_PERIODS = 6

export interface SearchInput extends CourseInput {
  /** Last sample before the force falls: whatever broke, broke before the next one. */
  readonly from: number
  /** So many breaks that only the first sample that falls says when they began. */
  readonly cascade: boolean
}

/** Moves courses to the instants at which they give the samples, and collects them with their weights. */
export class CourseSearch {
  /** No break before it, and none after. */
  readonly earliest: number
  readonly latest: number
  private readonly soonest: number
  private readonly model: CourseModel
  /** One for all that are tried: a long record tries some hundred thousand. */
  private readonly course: Course = { tB: 0, apart: 0, since: 0, slope: 0, first: 1 }

  constructor(
    private readonly input: SearchInput,
    private readonly found: WeighedCourses,
  ) {
    const { stamps, widthS, corner } = input
    this.model = new CourseModel(input)
    this.earliest = stamps[0]! - widthS
    // Sample `baseTo` lies on the line before, so that the drop came after what it averages; a corner may lie within.
    this.soonest = corner ? this.earliest : stamps[0]!
    this.latest = stamps.at(-1)! - (corner ? 0 : widthS)
  }

  /** Collects the course of this form, or several that differ in their instant, with this chance beforehand in all. */
  weigh(prior: number, since: number, slope: number, apart: number, first: number): void {
    const { course, input } = this
    course.since = since
    course.slope = slope
    course.apart = apart
    course.first = first
    if (input.cascade) this.weighCascade(prior)
    else if (input.widthS > 0 || input.corner) {
      this.model.settle(course, this.soonest, this.latest)
      this.keep(prior)
    } else this.weighPoints(prior)
  }

  private weighCascade(prior: number): void {
    const { stamps, from, to, baseTo } = this.input
    const until = stamps[Math.min(from + 1, to) - baseTo]!
    const tries = POINTS * Math.min(MOST_PERIODS, from + 1 - baseTo)
    this.weighBetween(this.soonest, until, tries, prior)
  }

  /** Samples of a converter that takes points say only between which two of them the force fell. */
  private weighPoints(prior: number): void {
    const { stamps } = this.input
    this.weighBetween(stamps.at(-2)!, stamps.at(-1)!, POINTS, prior)
  }

  private weighBetween(from: number, to: number, tries: number, prior: number): void {
    for (let k = 0; k < tries; k++) {
      this.course.tB = from + ((to - from) * (k + 0.5)) / tries
      this.keep(prior / tries)
    }
  }

  private keep(prior: number): void {
    const { course, model, found } = this
    const { corner, cascade, gridS, noiseN, from } = this.input
    if (course.tB - course.since < this.earliest - gridS) return
    const beforeN = model.beforeN(course)
    const afterN = Math.max(0, model.afterN(course.tB))
    if (corner ? Math.abs(beforeN - afterN) > noiseN : !(beforeN > afterN)) return
    const log = cascade ? model.logLikelihoodBefore(course, from) : model.logLikelihood(course)
    const weight = prior * Math.exp(log)
    if (weight > 0) found.add(weight, beforeN, (beforeN - afterN) / beforeN, course.tB)
  }
}
