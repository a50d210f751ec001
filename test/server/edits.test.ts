import { expect, test } from 'vitest'
import { pretendRecording } from '../store/pretendRecording.ts'
import { good } from '../store/stores.ts'
import { ask, json, running } from './running.ts'

test('specimens are changed as one edit that is listed, taken back and done again; a change of one field is listed too', async () => {
  const bench = await running()
  try {
    const call = async (method: string, path: string, body?: unknown) => {
      const answer = await ask(
        { port: bench.server.port },
        method,
        path,
        body === undefined ? {} : json(body),
      )
      return { status: answer.status, body: answer.text === '' ? null : JSON.parse(answer.text) }
    }
    const named = (specimen: string) =>
      bench.store.specimens.named({ study: 'Handles', variant: 'paste', specimen })
    const one = good(await named('one'))
    const two = good(await named('two'))
    good(
      await bench.store.recordings.save({ ...pretendRecording('a.csv'), source: 'log', specimenId: one.id }),
    )
    const at = `/api/studies/${one.studyId}/edits`
    const steps = [one, two].map(({ id }) => ({ kind: 'to-variant', specimenId: id, variant: 'stitch' }))
    const made = await call('POST', at, { steps, who: 'Ada', what: 'both to stitch' })
    expect(made.status).toBe(200)
    expect(made.body.reread).toMatchObject([{ specimen: 'one', before: null }])
    const variants = async () =>
      (await bench.store.specimens.list(one.studyId)).map(({ variantId }) => variantId === one.variantId)
    expect(await variants()).toEqual([false, false])
    expect((await call('PATCH', `/api/specimens/${two.id}`, { widthMm: 20, name: 'zwei' })).status).toBe(200)
    const stale = await call('PATCH', `/api/specimens/${two.id}`, { widthMm: 30, basedOn: two.updatedAt })
    expect(stale.status).toBe(409)
    const listed = await call('GET', at)
    expect(listed.body.map(({ what }: { what: string }) => what)).toEqual([
      '“two”: name zwei, width in mm 20',
      'both to stitch',
    ])
    for (const { id } of listed.body) expect((await call('POST', `${at}/${id}/take-back`)).status).toBe(200)
    expect(await variants()).toEqual([true, true])
    expect(good(await bench.store.specimens.get(two.id))).toMatchObject({ name: 'two', widthMm: null })
    expect((await call('POST', `${at}/${listed.body[1].id}/do-again`)).status).toBe(200)
    expect(await variants()).toEqual([false, false])
    expect(
      (await call('POST', at, { steps: [{ kind: 'remove', specimenId: 'none' }], what: 'x' })).status,
    ).toBe(409)
    expect(bench.faults).toEqual([])
  } finally {
    await bench.stop()
  }
})
