/** Windows of one browser tell each other that something was changed, so that all show the same. */
const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('tenterhook')

export const announce = (): void => channel?.postMessage('changed')

/** Calls `changed` when another window has changed something. Returns what ends it. */
export function onOtherTab(changed: () => void): () => void {
  channel?.addEventListener('message', changed)
  return () => channel?.removeEventListener('message', changed)
}
