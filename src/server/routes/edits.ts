import type { Outcome } from '../../core/problem.ts'
import type { SpecimenEdit } from '../../store/index.ts'
import { type Edited, editSpecimens, turnEdit } from '../editSpecimens.ts'
import { editSchema } from '../requests.ts'
import { type Answer, answer, type Bench, given, ok, type Route, route } from '../route.ts'

export const editRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/studies/:id/edits',
    summary: 'What was changed of its specimens, the newest first, what was taken back among it',
    answers: 'Edit[]',
    run: async ({ bench, params }) => ok(await bench.store.edits.list(params.id ?? '')),
  }),
  route({
    method: 'GET',
    path: '/api/studies/:id/removed-specimens',
    summary: 'Specimens that were removed and can be brought back',
    answers: 'Specimen[]',
    run: async ({ bench, params }) => ok(await bench.store.specimens.removed(params.id ?? '')),
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/edits',
    summary:
      'Changes specimens as one edit, all of it or nothing, and reads anew what is another by it, with the figures before and after',
    answers: 'Edited',
    body: editSchema,
    run: async ({ bench, params, body }) =>
      edited(
        await editSpecimens(bench.store, params.id ?? '', body.steps.map(stepOf), {
          who: body.who,
          what: body.what,
        }),
      ),
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/edits/:edit/take-back',
    summary: 'Takes an edit back; refused where a later one changed the same',
    answers: 'Edited',
    run: async ({ bench, params }) => turned(bench, params, 'back'),
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/edits/:edit/do-again',
    summary: 'Does an edit again that was taken back',
    answers: 'Edited',
    run: async ({ bench, params }) => turned(bench, params, 'again'),
  }),
]

type Step = ReturnType<typeof editSchema.parse>['steps'][number]

/** Fields that were not given are left out, not undefined. */
function stepOf(step: Step): SpecimenEdit {
  if (step.kind === 'change') return { ...given(step), fields: given(step.fields) }
  if (step.kind === 'add') {
    const { fields, ...added } = step
    return fields === undefined ? added : { ...added, fields: given(fields) }
  }
  return step
}

const turned = async (
  { store }: Bench,
  params: Readonly<Record<string, string>>,
  way: 'back' | 'again',
): Promise<Answer> => edited(await turnEdit(store, { id: params.edit ?? '', studyId: params.id ?? '' }, way))

const edited = (outcome: Outcome<Edited>): Answer => answer(outcome, 409)
