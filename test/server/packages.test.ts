import { expect, test } from 'vitest'
import { openText } from '../../src/publish/package/recomputed.ts'
import { isSound, verifyPackage } from '../../src/publish/package/verifyPackage.ts'
import { openZip, zipInMemory } from '../../src/publish/package/zip/openZip.ts'
import { wholeZip } from '../../src/publish/package/zip/zipOf.ts'
import { madeStudy, sha256 } from '../publish/package/madeStudy.ts'
import { filesOf, streamOf } from '../publish/package/sources.ts'
import { good } from '../store/stores.ts'
import { ask, running } from './running.ts'

test('A package is taken in and given out again, and what was given out verifies', async () => {
  const { server, store, stop, faults } = await running()
  const { port } = server
  try {
    const host = `127.0.0.1:${port}`
    const zip = await wholeZip(streamOf(await filesOf(madeStudy())), '2026-05-04T14:20:00Z')
    const headers = {
      host,
      origin: `http://${host}`,
      'content-type': 'application/octet-stream',
      'content-length': String(zip.length),
    }
    const sent = await ask({ port }, 'POST', '/api/packages?name=handles.zip', { headers, body: zip })
    expect(JSON.parse(sent.text)).toMatchObject({ study: { name: 'Handles', isNew: true }, recordings: 7 })
    const id = (await store.studies.byName('Handles'))?.id
    const path = `/api/studies/${id}/package`
    const got = await ask({ port }, 'GET', `${path}?licence=CC0-1.0&initials=true`, { headers: { host } })
    expect(got.headers['content-type']).toBe('application/zip')
    expect(got.headers['content-disposition']).toContain('handles.zip')
    const source = good(await openZip(zipInMemory('handles.zip', new Uint8Array(got.bytes))))
    expect(isSound(good(await verifyPackage(source, sha256, openText)))).toBe(true)
    expect((await ask({ port }, 'GET', `${path}?licence=GPL`, { headers: { host } })).status).toBe(422)
    const none = await ask({ port }, 'GET', '/api/studies/nowhere/package', { headers: { host } })
    expect(none.status).toBe(404)
    const bad = { ...headers, 'content-length': '3' }
    const refused = await ask({ port }, 'POST', '/api/packages', { headers: bad, body: 'abc' })
    expect(refused.status).toBe(422)
    expect(refused.text).toContain('no zip')
    expect(faults).toEqual([])
  } finally {
    await stop()
  }
})
