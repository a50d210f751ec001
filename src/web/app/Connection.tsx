import { useQueryClient } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { askJson } from '../data/http.ts'
import { onOtherTab } from '../data/otherTabs.ts'
import { Unreachable } from '../data/trouble.ts'
import { texts } from '../texts/index.ts'
import { useBench } from './context.tsx'
import { useFoot } from './undo.tsx'

const LOOK_AGAIN_MS = 2000

/** That a question or a change has just failed for want of a server: an old failure says nothing of now. */
const isGone = (action: { readonly type: string; readonly error?: unknown }): boolean =>
  (action.type === 'failed' || action.type === 'error') && action.error instanceof Unreachable

/**
 * Keeps this window in step: with other windows of the browser, and with a server that was gone and is back. While the
 * server is away a line at the top says so; what is on the screen stays.
 */
export function Connection() {
  const { backend } = useBench()
  const client = useQueryClient()
  const foot = useFoot()
  const [away, setAway] = useState(false)

  useEffect(() => onOtherTab(() => void client.invalidateQueries()), [client])

  useEffect(() => {
    if (backend.kind !== 'server') return
    return client.getQueryCache().subscribe(event => {
      if (event.type === 'updated' && isGone(event.action)) setAway(true)
    })
  }, [backend, client])

  useEffect(() => {
    if (backend.kind !== 'server') return
    return client.getMutationCache().subscribe(event => {
      if (event.type === 'updated' && isGone(event.action)) setAway(true)
    })
  }, [backend, client])

  useEffect(() => {
    if (!away) return
    const timer = setInterval(() => {
      askJson('/api/about').then(
        () => {
          setAway(false)
          foot.say(texts.app.serverBack)
          void client.invalidateQueries()
        },
        () => {},
      )
    }, LOOK_AGAIN_MS)
    return () => clearInterval(timer)
  }, [away, client, foot])

  if (!away) return null
  return (
    <div className="trouble" role="alert">
      {texts.app.serverGone}
    </div>
  )
}
